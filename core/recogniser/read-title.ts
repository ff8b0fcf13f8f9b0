import type { Measure } from "../quantity/measure.js";
import { ELEMENTS, type Quantity } from "../quantity/quantity.js";
import type { Unit } from "../quantity/unit.js";
import { combineTitles } from "./combine-titles.js";
import { splitTitleMark } from "./footnotes.js";
import { tidy, type Word, wordsOf } from "./plain-text.js";
import { readTemperatureIn } from "./read-temperature.js";
import { readSpecimenWidthIn } from "./specimen-width.js";
import type { Gauge, Title } from "./title.js";
import type { Entry } from "./vocabulary/entry.js";
import { UNIT_SPELLINGS } from "./vocabulary/units.js";
import { VOCABULARY } from "./vocabulary/vocabulary.js";

const LONGEST_TITLE = 160;

/**
 * Reads a title by taking away what is understood, piece by piece: temperature, size, multiplier, unit, then known
 * phrases and symbols. What is left over stands in `rest`; a caller that needs certainty wants it empty.
 */
export function readTitle(text: string): Title {
  if (text.length > LONGEST_TITLE) return { rest: text };
  const { title, mark } = splitTitleMark(text);
  let left = tidy(title)
    .replace(/(\d),(\d)/g, "$1.$2")
    // "KV a -196 °C", "à -196 °C": no elongation, but the word "at" of four languages.
    .replace(/(?<=\s)[aà] (?=[-+] ?\d)/g, "");
  const found: Partial<Title>[] = [];
  const take = (part: { readonly means: Partial<Title>; readonly matched: string } | undefined) => {
    if (!part) return;
    found.push(part.means);
    left = left.replace(part.matched, " ");
  };

  take(temperatureIn(left));
  take(widthIn(left));
  take(gaugeIn(left));
  // "psi x 1000" is ksi: such units swallow their own factor, so they come before multipliers.
  take(unitIn(left, (unit) => unit === "ksi"));
  take(multiplierIn(left));
  take(unitIn(left, () => true));

  const words = readWords(wordsOf(left));
  const meanings = [...found, ...words.meanings];
  if (mark !== undefined && meanings.length > 0) meanings.push({ mark });
  return combineTitles(meanings, words.unknown.join(" "));
}

function temperatureIn(text: string) {
  const read = readTemperatureIn(text);
  return read && { means: { temperature: read.temperature }, matched: read.matched };
}

function widthIn(text: string) {
  const read: { width: Measure; matched: string } | undefined = readSpecimenWidthIn(text);
  return read && { means: { specimenWidth: read.width }, matched: read.matched };
}

const GAUGES: Readonly<Record<string, Gauge>> = {
  "50 mm": "A50",
  "80 mm": "A80",
  "200 mm": "A200",
  "2 in": "A50",
  "8 in": "A200",
};

function gaugeIn(text: string) {
  const match = /(?<![\d.])(50|80|200)\s?(mm)\b|(?<![\d.])([28])\s?(in)(?:ch(?:es)?)?\b\.?/i.exec(text);
  if (!match) return undefined;
  const gauge = GAUGES[`${match[1] ?? match[3]} ${(match[2] ?? match[4])!.toLowerCase()}`];
  return gauge && { means: { gauge }, matched: match[0] };
}

/** "x1000", "×10⁻³", "10-2", "% x 100", "1/1000". The trade writes both 10³ and 10⁻³ for "printed a thousand times too large". */
function multiplierIn(text: string) {
  const power = /(?<![A-Za-z\d.])(?:[xX*]\s?)?10\s?(?:\^\s?)?-\s?([1-6])(?!\d)|[xX*]\s?10\s?\^\s?([1-6])(?!\d)/.exec(
    text,
  );
  if (power) return { means: { power: -Number(power[1] ?? power[2]) }, matched: power[0] };
  const factor = /(?:(?<![A-Za-z\d])[xX*]|(?<=[A-Z%])x|(?<![\d])1\s?\/)\s?(10{1,5})(?![\d.])/.exec(text);
  return factor ? { means: { power: -(factor[1]!.length - 1) }, matched: factor[0] } : undefined;
}

function unitIn(text: string, wanted: (unit: Unit) => boolean) {
  for (const [spelling, unit] of UNIT_SPELLINGS) {
    if (!wanted(unit)) continue;
    // The per cent sign of "0.2 % proof strength" is no unit.
    const candidate =
      unit === "%" ? text.replace(/(?<![\d.])(0?\.20?|0?\.50?|1(\.0)?)\s?%/g, (part) => part.replace("%", " ")) : text;
    const match = spelling.exec(candidate);
    if (match) return { means: { unit }, matched: match[0] };
  }
  return undefined;
}

interface Phrase {
  readonly words: readonly string[];
  readonly means: Partial<Title>;
}

const PHRASES: ReadonlyMap<string, readonly Phrase[]> = indexPhrases(VOCABULARY);
/** Without cerium: "CE" in capitals is the carbon equivalent, which most papers print, and "Ce" the element. */
const ELEMENT_BY_UPPER: ReadonlyMap<string, Quantity> = new Map(
  ELEMENTS.filter((element) => element !== "Ce").map((element) => [element.toUpperCase(), element]),
);
/** Single capitals that are symbols; in lower case they are words of some language. */
const CAPITALS: Readonly<Record<string, Quantity>> = { A: "A", Z: "Z", E: "E" };

function indexPhrases(vocabulary: readonly Entry[]): Map<string, Phrase[]> {
  const index = new Map<string, Phrase[]>();
  const seen = new Set<string>();
  for (const { means, phrases } of vocabulary) {
    for (const phrase of phrases) {
      const words = wordsOf(tidy(phrase)).map((word) => word.plain);
      const key = words.join(" ");
      // A phrase that two languages share keeps its first meaning; a filler word never hides one.
      if (words.length === 0 || seen.has(key)) continue;
      seen.add(key);
      index.set(words[0]!, [...(index.get(words[0]!) ?? []), { words, means }]);
    }
  }
  for (const phrases of index.values()) phrases.sort((left, right) => right.words.length - left.words.length);
  return index;
}

/** Letters that a word cut short must keep: "Sp." and "El." are words of the vocabulary, or nothing. */
const LEAST_KEPT = 3;

/** "Zugfest. Rm", "Rés. traction", "Límite elást.": what the cut words begin, if all the longest phrases that fit mean the same. */
function cutPhraseAt(words: readonly Word[], at: number): Phrase | undefined {
  const fits = (wanted: string, word: Word | undefined) =>
    word !== undefined &&
    (word.plain === wanted || (word.isCut && word.plain.length >= LEAST_KEPT && wanted.startsWith(word.plain)));
  const first = words[at]!;
  const keys = first.isCut ? [...PHRASES.keys()].filter((key) => fits(key, first)) : [first.plain];
  const candidates = keys
    .flatMap((key) => PHRASES.get(key) ?? [])
    .filter(({ words: wanted }) => wanted.every((word, offset) => fits(word, words[at + offset])));
  const longest = Math.max(0, ...candidates.map(({ words: wanted }) => wanted.length));
  const best = candidates.filter(({ words: wanted }) => wanted.length === longest);
  return new Set(best.map(({ means }) => JSON.stringify(means))).size === 1 ? best[0] : undefined;
}

function readWords(words: readonly Word[]): { meanings: Partial<Title>[]; unknown: string[] } {
  const meanings: Partial<Title>[] = [];
  const unknown: string[] = [];
  for (let at = 0; at < words.length; ) {
    const whole = PHRASES.get(words[at]!.plain)?.find(({ words: wanted }) =>
      wanted.every((word, offset) => words[at + offset]?.plain === word),
    );
    const next = words[at + (whole?.words.length ?? 0)];
    const isCut = words[at]!.isCut || next?.isCut;
    const cut = isCut ? cutPhraseAt(words, at) : undefined;
    const phrase = cut && cut.words.length > (whole?.words.length ?? 0) ? cut : whole;
    const symbol = phrase && phrase.words.length > 1 ? undefined : symbolOf(words[at]!);
    const means = symbol ?? (phrase && withLocation(phrase));
    if (means) meanings.push(means);
    else unknown.push(words[at]!.raw);
    at += symbol ? 1 : (phrase?.words.length ?? 1);
  }
  return { meanings, unknown };
}

function withLocation(phrase: Phrase): Partial<Title> {
  return phrase.means.zone ? { ...phrase.means, location: phrase.words.join(" ") } : phrase.means;
}

/** Element symbols, capitals, and the numbered singles of a set: "1", "J2", "KV3", "LE1". */
function symbolOf({ raw, plain }: Word): Partial<Title> | undefined {
  const capital = CAPITALS[raw];
  if (capital) return { quantity: capital };
  if (raw === "Ce") return { quantity: "Ce" };
  const isSymbolCase =
    raw === raw.toUpperCase() || /^[A-Z][a-z]$/.test(raw) || /^(?:si|mn|cr|ni|mo|cu|nb|ti)$/.test(raw);
  const element = isSymbolCase ? ELEMENT_BY_UPPER.get(raw.toUpperCase()) : undefined;
  if (element) return { quantity: element };
  const numbered = /^(kv|kcv|cvn|le|sfa|j|e|k)?([1-9])(?:st|nd|rd|th)?$/.exec(plain);
  if (!numbered) return undefined;
  const [, stem = "", piece] = numbered;
  const quantity = PIECE_STEMS[stem];
  if (stem === "kv" && (piece === "2" || piece === "8")) {
    return { quantity: "KV", striker: piece === "2" ? 2 : 8, strikerOrPiece: true };
  }
  return { piece: piece!, ...(quantity && { quantity }) };
}

const PIECE_STEMS: Readonly<Record<string, Quantity>> = {
  kv: "KV",
  kcv: "KCV",
  cvn: "KV",
  le: "LE",
  sfa: "SFA",
  j: "KV",
  e: "KV",
  k: "KV",
};
