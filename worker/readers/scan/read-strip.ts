import { agreeOn, inCase, SURE, type WordReading } from "./agree-words.js";
import { cutStrip, withBorder } from "./cut-strip.js";
import type { Strip } from "./find-strips.js";
import type { GrayImage } from "./gray-image.js";
import { type Blob, frameAround } from "./ink-blobs.js";
import { LINE_HEIGHT, type LineSession, type ReadCharacter } from "./line-session.js";
import type { OcrSession, OcrWord } from "./ocr-session.js";
import { isFootPoint } from "./seen-in-ink.js";

/** Both engines, which share neither model nor method. */
export interface Engines {
  readonly first: LineSession;
  readonly second: OcrSession;
}

/** Paper round the writing, in heights of its capitals. */
const MARGIN = { across: 0.3, down: 0.27 };
const BORDER = 12;
/** Heights in pixels of the pictures of a word that is looked at again. */
const SECOND_LOOKS = [36, 64];
/** Of the narrower one: so much of two words at the same place lies over each other. */
const SHARED = 0.3;
/** In heights of capitals: this much white is a space, less than that may be one, and less than the least is none. */
const SPACE = { sure: 0.36, least: 0.2 };
/** A character takes at least so much room, whatever its ink: "1" stands in white, and "." does in type of one width. */
const CHARACTER_WIDTH = { narrow: 0.5, point: 0.85 };
const POINT_WIDTH = 0.3;
/** By so much the white on the two sides of a decimal sign differs. */
const UNEVEN = 0.2;

/** The words of one strip, each read by both engines. */
export async function readStrip(
  strip: Strip,
  level: GrayImage,
  blobs: readonly Blob[],
  engines: Engines,
): Promise<OcrWord[]> {
  const { box, picture } = pictureOf(strip, level, blobs, LINE_HEIGHT);
  const scale = (box[3] - box[1]) / LINE_HEIGHT;
  const characters = (await engines.first.read(picture)).map((character): ReadCharacter => {
    return { ...character, at: box[0] + character.at * picture.width * scale };
  });
  const others = (await engines.second.readLine(withBorder(picture, BORDER))).map(({ text, confidence, box: seen }) => {
    const [from, to] = [seen[0], seen[2]].map((x) => box[0] + (x - BORDER) * scale) as [number, number];
    return { text, confidence, from, to };
  });
  const parts = cutWords(strip, characters, others);
  const words: OcrWord[] = [];
  for (const { firsts, seconds } of pairUp(parts, others)) {
    const agreed = agreeOnGroup(firsts, seconds, strip);
    for (const [index, part] of firsts.entries()) {
      const reading = agreed[index]!;
      words.push({
        ...(reading.confidence < SURE ? await readAgain(reading, part, strip, level, blobs, engines) : reading),
        box: boxOf(part),
        line: [strip.top, strip.bottom],
      });
    }
  }
  return words;
}

/** The words that the second engine found elsewhere or cut otherwise go together. */
function pairUp(
  parts: readonly Part[],
  others: readonly PlacedReading[],
): { firsts: Part[]; seconds: PlacedReading[] }[] {
  const groups: { firsts: Part[]; seconds: PlacedReading[] }[] = [];
  for (const part of parts) {
    const last = groups.at(-1);
    const { left, right } = frameAround(part.blobs);
    const beside = others.filter((other) => overlapOf(other, { from: left, to: right }) > SHARED);
    const goesOn = last !== undefined && beside.some((other) => last.seconds.includes(other));
    const seconds = beside.filter((other) => !goesOn || !last.seconds.includes(other));
    if (goesOn) {
      last.firsts.push(part);
      last.seconds.push(...seconds);
    } else {
      groups.push({ firsts: [part], seconds });
    }
  }
  return groups;
}

function overlapOf(left: { from: number; to: number }, right: { from: number; to: number }): number {
  const shared = Math.min(left.to, right.to) - Math.max(left.from, right.from);
  return shared / Math.max(1, Math.min(left.to - left.from, right.to - right.from));
}

/** "Cr" and "%" against "Cr%" is no difference: where the engines part words is not what they read. */
function agreeOnGroup(firsts: readonly Part[], seconds: readonly PlacedReading[], strip: Strip): WordReading[] {
  const inks = firsts.map((part) => inkOf(part, strip));
  if (firsts.length > 1) {
    const whole = {
      text: firsts.map(({ text }) => text).join(""),
      confidence: Math.min(...firsts.map(({ confidence }) => confidence)),
    };
    const ink = { ...inks[0]!, blobs: inks.flatMap((one) => one.blobs) };
    const joined = agreeOn(whole, joinReadings(seconds), ink);
    if (joined.confidence >= SURE) {
      return firsts.map((part, index) => ({ text: inCase(part.text, inks[index]!), confidence: joined.confidence }));
    }
  }
  return firsts.map((part, index) => {
    const own = seconds.filter(({ from, to }) => (from + to) / 2 >= part.from && (from + to) / 2 < part.to);
    return agreeOn(part, joinReadings(own), inks[index]!);
  });
}

function inkOf({ blobs }: Part, { capHeight, bottom }: Strip) {
  return { blobs, capHeight, bottom };
}

function joinReadings(readings: readonly WordReading[]): WordReading {
  return {
    text: readings.map(({ text }) => text).join(""),
    confidence: Math.min(1, ...readings.map(({ confidence }) => confidence)),
  };
}

/** The second engine has another look at a word by itself, in other sizes; only its agreement with the first counts. */
async function readAgain(
  reading: WordReading,
  part: Part,
  strip: Strip,
  level: GrayImage,
  blobs: readonly Blob[],
  { second }: Engines,
): Promise<WordReading> {
  if (part.text === "") return reading;
  const { left, top, right, bottom } = frameAround(part.blobs);
  const alone = {
    ...strip,
    blobs: part.blobs,
    left,
    right,
    top: Math.max(top, strip.top),
    bottom: Math.min(bottom, strip.bottom),
  };
  for (const height of SECOND_LOOKS) {
    const { picture } = pictureOf(alone, level, blobs, height);
    const found = agreeOn(part, joinReadings(await second.readWord(withBorder(picture, BORDER))), inkOf(part, strip));
    if (found.confidence >= SURE) return found;
  }
  return reading;
}

/** A strip as the engines are shown it, and which part of the page that is. */
export function pictureOf(strip: Strip, level: GrayImage, blobs: readonly Blob[], height: number) {
  const box = frameOf(strip);
  return { box, picture: cutStrip(level, box, foreignTo(strip, box, blobs), height) };
}

function frameOf({ left, right, top, bottom, capHeight }: Strip): [number, number, number, number] {
  const [across, down] = [MARGIN.across * capHeight, MARGIN.down * capHeight];
  const height = bottom - top;
  // A dash hangs in the middle of its line; low letters stand on its foot.
  const isDash = height < 0.4 * capHeight;
  const missing = Math.max(0, capHeight - height);
  const upper = top - (isDash ? missing / 2 : missing);
  const lower = bottom + (isDash ? missing / 2 : 0);
  return [left - across, upper - down, right + across, lower + down].map(Math.round) as [
    number,
    number,
    number,
    number,
  ];
}

function foreignTo(strip: Strip, box: readonly [number, number, number, number], blobs: readonly Blob[]): Blob[] {
  const own = new Set(strip.blobs);
  return blobs.filter((blob) => {
    if (blob.bottom <= box[1] || blob.top >= box[3] || blob.right <= box[0] || blob.left >= box[2]) return false;
    return !own.has(blob) && !strip.blobs.some((mine) => meet(mine, blob));
  });
}

function meet(left: Blob, right: Blob): boolean {
  return (
    left.left - 1 < right.right &&
    right.left - 1 < left.right &&
    left.top - 1 < right.bottom &&
    right.top - 1 < left.bottom
  );
}

interface PlacedReading extends WordReading {
  readonly from: number;
  readonly to: number;
}

/** A word of the strip as the first engine read it. */
interface Part extends PlacedReading {
  readonly blobs: readonly Blob[];
}

/** Words by the white between them: where it is as wide as a space, and where an engine saw a space and there is some. */
function cutWords(
  { blobs, capHeight, bottom }: Strip,
  characters: readonly ReadCharacter[],
  others: readonly PlacedReading[],
): Part[] {
  const all = gapsBetween(blobs, capHeight);
  const gaps = all.filter((gap) => {
    return gap.effective >= SPACE.sure * capHeight || !isBesideSign(gap, all, characters, { capHeight, bottom });
  });
  const cuts = gaps.filter(({ effective }) => effective >= SPACE.sure * capHeight).map(({ middle }) => middle);
  const between = (from: number, to: number) => {
    const seen = gaps
      .filter(({ middle, width }) => middle > from && middle < to && width >= SPACE.least * capHeight)
      .sort((left, right) => right.width - left.width)[0];
    if (seen) cuts.push(seen.middle);
  };
  for (const [index, { text }] of characters.entries()) {
    const [before, after] = [characters[index - 1], characters[index + 1]];
    if (text === " " && before && after) between(before.at, after.at);
  }
  for (const [index, { from }] of others.slice(1).entries()) {
    const { to } = others[index]!;
    between(Math.min(to, from) - SPACE.least * capHeight, Math.max(to, from) + SPACE.least * capHeight);
  }
  const edges = [
    Number.NEGATIVE_INFINITY,
    ...[...new Set(cuts)].sort((left, right) => left - right),
    Number.POSITIVE_INFINITY,
  ];
  return edges.slice(1).flatMap((to, index) => {
    const from = edges[index]!;
    const inside = blobs.filter((blob) => (blob.left + blob.right) / 2 >= from && (blob.left + blob.right) / 2 < to);
    if (inside.length === 0) return [];
    const own = characters.filter(({ at, text }) => text !== " " && at >= from && at < to);
    const confidence = Math.min(1, ...own.map((character) => character.confidence));
    return [{ from, to, blobs: inside, text: own.map(({ text }) => text).join(""), confidence }];
  });
}

interface Gap {
  readonly middle: number;
  readonly width: number;
  /** Less the room that its neighbours take whatever their ink. */
  readonly effective: number;
  readonly sides: readonly [Blob, Blob];
}

/**
 * "0, 53": the white beside a decimal sign is no space, whatever an engine takes it for, where there is about as much on the sign's
 * other side. Behind the comma of a list there is more.
 */
function isBesideSign(
  gap: Gap,
  gaps: readonly Gap[],
  characters: readonly ReadCharacter[],
  line: { readonly capHeight: number; readonly bottom: number },
): boolean {
  const sign = gap.sides.find((blob) => isFootPoint(blob, line));
  const other = sign && gaps.find((candidate) => candidate !== gap && candidate.sides.includes(sign));
  if (!other) return false;
  const whiteOf = ({ width, sides }: Gap) => {
    return width - sides.reduce((room, blob) => room + (blob === sign ? 0 : roomBeside(blob, line.capHeight)), 0);
  };
  const written = characters.filter(({ text }) => text !== " ");
  const before = written.filter(({ at }) => at < gap.middle).slice(-2);
  const after = written.filter(({ at }) => at > gap.middle).slice(0, 2);
  const isNumber = /\d[.,]\d/.test([...before, ...after].map(({ text }) => text).join(""));
  return isNumber && whiteOf(gap) <= whiteOf(other) + UNEVEN * line.capHeight;
}

function gapsBetween(blobs: readonly Blob[], capHeight: number): Gap[] {
  const gaps: Gap[] = [];
  let reach: Blob | undefined;
  for (const blob of blobs) {
    if (reach && blob.left > reach.right) {
      const width = blob.left - reach.right;
      const room = roomBeside(reach, capHeight) + roomBeside(blob, capHeight);
      gaps.push({ middle: (reach.right + blob.left) / 2, width, effective: width - room, sides: [reach, blob] });
    }
    if (!reach || blob.right > reach.right) reach = blob;
  }
  return gaps;
}

function roomBeside({ left, right }: Blob, capHeight: number): number {
  const width = (right - left) / capHeight;
  const least = width < POINT_WIDTH ? CHARACTER_WIDTH.point : CHARACTER_WIDTH.narrow;
  return (Math.max(0, least - width) / 2) * capHeight;
}

function boxOf({ blobs }: Part): [number, number, number, number] {
  const { left, top, right, bottom } = frameAround(blobs);
  return [left, top, right, bottom];
}
