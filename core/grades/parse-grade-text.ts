import { designationKey } from "./designation.js";
import { NATIONAL_BODIES, parseStandardName, tidyText } from "./standard-name.js";
import { writtenEdition } from "./written-edition.js";

/** One grade as written, with the standard it was written beside. Two of them in one text mean both (dual certified). */
export interface GradeText {
  /** As written, tidied: "ASTM A240/A240M-18", "EN 10028-7". */
  readonly standard?: string;
  readonly edition?: string;
  readonly grade: string;
}

const AWS = String.raw`(?:(?:AWS|ASME|ANSI)[ /-]*)?(?:SF)?A[ -]?5[.]\d{1,2}M?(?: ?/ ?(?:SF)?A[ -]?5[.]\d{1,2}M?)?(?: ?[-:] ?\d{2,4})?`;
/** A193 B7 and A4-80 are no standards: a letter alone needs two digits after A and three after B. */
const ASTM_LETTERS = String.raw`(?:(?:(?:ASTM|ASME|ANSI)[ /-]*)+S?[AB][ -]?|S[AB][ -]?|A[ -]?(?=\d{2})|B[ -]?(?=\d{3}))`;
/** The same number again after a slash: A240/A240M, SA-240/A240. */
const ASTM_PARTNERS = String.raw`(?: ?/ ?(?:(?:ASTM|ASME)[ -]?)?(?:S?[AB][ -]?)?(?:\k<number>M?|M)(?![\dA-Z]))*`;
const ASTM_EDITION = String.raw`(?:(?: ?[-:] ?| (?=\d{4}))(?:19|20)?\d{2}[A-E]?(?:E\d)?)?`;
const ASTM = String.raw`${ASTM_LETTERS}(?<number>\d{1,4})M?${ASTM_PARTNERS}${ASTM_EDITION}`;
const API = "API(?: SPEC)?[ -]*5L";
const NATIONAL = `(?:(?:${NATIONAL_BODIES})[ /-]*)?`;
const EUROPEAN = String.raw`${NATIONAL}(?:EN[ /-]*ISO|EN|ISO)[ -]*\d{3,5}(?:[ -]+\d{1,2}(?![\d.A-Z])|-[AB](?![A-Z]))?(?: ?: ?\d{4}(?:-\d{2})?)?`;

/** Standards as they stand inside longer text. The "SS" of "gemäss EN 10028-7" is no Swedish prefix. */
const STANDARD = new RegExp(`(?<![\\p{L}0-9.])(?:${[AWS, ASTM, API, EUROPEAN].join("|")})(?![\\p{L}0-9])`, "gu");

/** Words between standard and grade, and words about the product, that are part of neither. */
const FILLER =
  /\b(?:ACC(?:ORDING)?[.]?(?: TO)?|IN ACC(?:ORDANCE)?[.]? WITH|AS PER|PER|TO|GEM(?:ÄSS)?[.]?|NACH|SELON|SECONDO|ED(?:ITION)?[.]?|STAINLESS|STEEL|PLATES?|SHEETS?|STRIPS?|COILS?|BARS?|PIPES?|TUBES?|FORGINGS?|SEAMLESS|DUAL(?:LY)?|CERTIFIED|LATEST|CURRENT|SOLUTION|ANNEALED|PICKLED|NORMALI[SZ]ED|(?:HOT|COLD)[ -]ROLLED)\b/g;
const SEPARATOR = /[/,;|&()[\]]+|\+(?=\d{3})|\b(?:AND|UND|ET)\b/;
const LONGEST_TEXT = 300;

/** Takes "ASTM A240-18 / SA-240 Type 304/304L, EN 10028-7 1.4307" apart into one entry for each standard and grade. */
export function parseGradeText(text: string): GradeText[] {
  if (text.length > LONGEST_TEXT) return [];
  const runs = splitIntoRuns(withPoint(tidyText(text)).replace(/(\d+)\((L|H|N|LN)\)/g, "$1/$1$2"));
  return pairUp(runs).flatMap(({ standards, grades }) => combine(standards, grades));
}

/** A material number with the comma of European keyboards: 1,4307 is 1.4307. */
function withPoint(tidy: string): string {
  return tidy.replace(/(?<![\d.,])1,(?=\d{4}(?!\d))/g, "1.");
}

interface Run {
  readonly kind: "standards" | "grades";
  readonly texts: readonly string[];
}

/** Standards and grades in the order that they stand, neighbours of one kind together. */
function splitIntoRuns(text: string): Run[] {
  const runs: Run[] = [];
  const put = (kind: Run["kind"], texts: readonly string[]) => {
    const last = runs.at(-1);
    if (texts.length === 0) return;
    if (last?.kind === kind) runs[runs.length - 1] = { kind, texts: [...last.texts, ...texts] };
    else runs.push({ kind, texts });
  };
  const standards = [...text.matchAll(STANDARD)];
  put("grades", gradesIn(text.slice(0, standards[0]?.index)));
  for (const [index, match] of standards.entries()) {
    const behind = text.slice(match.index + match[0].length, standards[index + 1]?.index);
    const { standard, rest } = withEdition(match[0], behind);
    put("standards", [standard]);
    put("grades", gradesIn(rest));
  }
  return runs;
}

/** The standard with the edition that is written out behind it: "A240" and " ed. 2018 304L" are "A240-2018" and "304L". */
function withEdition(standard: string, behind: string): { readonly standard: string; readonly rest: string } {
  const written = parseStandardName(standard)?.edition === undefined ? writtenEdition(behind) : undefined;
  if (!written) return { standard, rest: behind };
  return { standard: `${standard}-${written.edition}`, rest: written.rest };
}

function gradesIn(text: string): string[] {
  const pieces = text
    .replace(FILLER, " ")
    .split(SEPARATOR)
    .map((piece) => piece.replace(/^[\s:.+-]+|[\s:.-]+$/g, ""))
    .filter((piece) => piece !== "" && (/\d/.test(piece) || designationKey(piece).length <= 3));
  // "304/L" is 304 and 304L.
  return pieces.map((piece, index) =>
    /^(?:L|H|N|LN)$/.test(piece) && /\d$/.test(pieces[index - 1] ?? "") ? `${pieces[index - 1]}${piece}` : piece,
  );
}

interface Pair {
  readonly standards: readonly string[];
  readonly grades: readonly string[];
}

/** "A240 304L" goes forward, "1.4307 to EN 10028-7" backward: the first run says which. */
function pairUp(runs: readonly Run[]): Pair[] {
  const pairs: Pair[] = [];
  for (let index = 0; index < runs.length; index += 2) {
    const both = runs.slice(index, index + 2);
    const textsOf = (kind: Run["kind"]) => both.find((run) => run.kind === kind)?.texts ?? [];
    pairs.push({ standards: textsOf("standards"), grades: textsOf("grades") });
  }
  return pairs;
}

function combine(standards: readonly string[], grades: readonly string[]): GradeText[] {
  if (standards.length === 0) return grades.map((grade) => ({ grade }));
  // A36, A105 and A353 are standard and grade in one; "A516-70" names grade 70, not the edition of 1970.
  if (grades.length === 0) return standards.map(gradeInStandard);
  return grades.flatMap((grade) => ofSameFamily(grade, standards).map((standard) => withStandard(standard, grade)));
}

function gradeInStandard(standard: string): GradeText {
  const match = /^(.*\d)-(\d{2})$/.exec(standard);
  if (match) return { standard: match[1]!, grade: match[2]! };
  return { standard, grade: parseStandardName(standard)?.key ?? standard };
}

function withStandard(standard: string, grade: string): GradeText {
  const edition = parseStandardName(standard)?.edition;
  return { standard, ...(edition !== undefined && { edition }), grade };
}

/** "304L / 1.4307 to A240 and EN 10088-2": each grade belongs to the standard that writes grades its way. */
function ofSameFamily(grade: string, standards: readonly string[]): readonly string[] {
  const wanted = /^1[.]\d{4}|^X\d|^EN /.test(grade)
    ? /\b(?:EN|ISO)\b|EN\d/
    : /^(?:TP|F|WP|CF|TYPE)?[ -]?[2-6]\d{2}(?!\d)|^[SN]\d{5}$/.test(grade)
      ? /\bS?[AB][ -]?\d/
      : undefined;
  const fitting = standards.filter((standard) => wanted === undefined || wanted.test(standard));
  return fitting.length > 0 ? fitting : standards;
}
