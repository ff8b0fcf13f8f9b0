import { type Blob, type Frame, frameAround } from "./ink-blobs.js";
import type { PixelLine } from "./ruling-lines.js";

/** A run of writing on one line, cut from its neighbours by more than a space: a cell's line, a label, a value. */
export interface Strip {
  /** From left to right. */
  readonly blobs: readonly Blob[];
  readonly left: number;
  readonly right: number;
  /** Of its letters; points, accents and dashes may stand out. */
  readonly top: number;
  readonly bottom: number;
  /** Height of the capitals and digits of its size of type. */
  readonly capHeight: number;
}

/** Letters and digits are between these heights, in inches: type of 4 to 40 points. */
const LETTER_INCH = { least: 0.025, most: 0.42 };
/** Shares of the usual height: below it is a point, a dash, an accent. */
const SMALL = 0.5;
/** In heights of the higher one: the widest gap inside a strip. */
const WIDEST_GAP = 0.95;
/** A point or a dash belongs to letters that are no further away, in heights of them. */
const SMALL_REACH = 0.65;
/** On either side of a sign that stands between two letters, in heights of them. */
const BRIDGE_REACH = 0.55;
const LEAST_SHARED = 0.45;
/** A stump of a ruling line is that many times longer than thick and longer than a dash. */
const STUMP = 9;

/** Writing gathered from blobs of ink, whatever stands round it. */
export function findStrips(blobs: readonly Blob[], lines: readonly PixelLine[], dpi: number): Strip[] {
  const letters = blobs.filter((blob) => isLetterSized(blob, dpi) && !isStump(blob, dpi));
  if (letters.length === 0) return [];
  const usual = usualHeight(letters);
  const tall = letters.filter((blob) => heightOf(blob) >= SMALL * usual);
  const small = blobs.filter((blob) => !isStump(blob, dpi) && heightOf(blob) < SMALL * usual && !isSpeck(blob, usual));
  const groups = linkLetters(tall, small, lines);
  const loose = attachSmall(groups, small, lines);
  const strips = [...groups, ...loose.filter((blob) => isDash(blob, usual)).map((blob) => [blob])].map((group) =>
    toStrip(group, usual),
  );
  return strips.map((strip) => ({ ...strip, capHeight: capHeightAt(strip, strips, usual) }));
}

function heightOf({ top, bottom }: Frame): number {
  return bottom - top;
}

function isLetterSized(blob: Blob, dpi: number): boolean {
  return heightOf(blob) >= LETTER_INCH.least * dpi && heightOf(blob) <= LETTER_INCH.most * dpi;
}

function isStump(blob: Blob, dpi: number): boolean {
  const [across, down] = [blob.right - blob.left, heightOf(blob)];
  const long = Math.max(across, down);
  return long > 0.12 * dpi && long > STUMP * Math.min(across, down);
}

/** One pixel in a thousand of a letter's field is dust. */
function isSpeck({ ink }: Blob, usual: number): boolean {
  return ink < Math.max(2, 0.006 * usual * usual);
}

function isDash(blob: Blob, usual: number): boolean {
  const across = blob.right - blob.left;
  return across >= 0.2 * usual && across >= 1.6 * heightOf(blob) && across <= 2 * usual;
}

/** Of digits and capitals, which are most of a certificate: above the middle, so that small letters do not pull it down. */
function usualHeight(letters: readonly Blob[]): number {
  const heights = letters.map(heightOf).sort((left, right) => left - right);
  return heights[Math.floor(0.6 * heights.length)]!;
}

function linkLetters(letters: readonly Blob[], small: readonly Blob[], lines: readonly PixelLine[]): Blob[][] {
  const sorted = [...letters].sort((left, right) => left.left - right.left);
  const groupOf = new Map<Blob, Blob[]>();
  const uprights = lines.filter(({ direction }) => direction === "upright");
  for (const [index, blob] of sorted.entries()) {
    const group = groupOf.get(blob) ?? [blob];
    groupOf.set(blob, group);
    const reach = WIDEST_GAP * heightOf(blob) * 2;
    for (let other = index + 1; other < sorted.length && sorted[other]!.left - blob.right <= reach; other++) {
      const right = sorted[other]!;
      const gap = right.left - blob.right;
      if (!standBeside(blob, right)) continue;
      const isWide = gap > WIDEST_GAP * Math.max(heightOf(blob), heightOf(right));
      if (isWide && !small.some((sign) => isBridge(sign, blob, right))) continue;
      if (uprights.some((line) => isBetween(line, blob, right))) continue;
      merge(groupOf, group, groupOf.get(right) ?? [right]);
    }
  }
  return [...new Set(groupOf.values())];

  function merge(all: Map<Blob, Blob[]>, group: Blob[], other: Blob[]): void {
    if (all.get(other[0]!) === group) return;
    group.push(...other);
    for (const blob of other) all.set(blob, group);
  }
}

/** "1.42" in type of one width: the point stands in the middle of white as wide as a figure, and belongs to both of its neighbours. */
function isBridge(sign: Blob, left: Blob, right: Blob): boolean {
  const [top, bottom] = [Math.min(left.top, right.top), Math.max(left.bottom, right.bottom)];
  const reach = BRIDGE_REACH * (bottom - top);
  const middle = (sign.top + sign.bottom) / 2;
  // At the foot: the ring of "°C" belongs to what follows it, and a dash may stand between words.
  const isInLine = middle > top + 0.7 * (bottom - top) && sign.top < bottom;
  return isInLine && near(sign.left - left.right) && near(right.left - sign.right);

  function near(gap: number): boolean {
    return gap >= 0 && gap <= reach;
  }
}

function standBeside(left: Blob, right: Blob): boolean {
  const [lower, higher] = [heightOf(left), heightOf(right)].sort((a, b) => a - b) as [number, number];
  const shared = Math.min(left.bottom, right.bottom) - Math.max(left.top, right.top);
  return shared >= LEAST_SHARED * lower && higher <= 2.6 * lower;
}

function isBetween({ at, from, to }: PixelLine, left: Frame, right: Frame): boolean {
  const middle = (Math.max(left.top, right.top) + Math.min(left.bottom, right.bottom)) / 2;
  return at >= left.right - 2 && at <= right.left + 2 && from <= middle && to >= middle;
}

/** Adds points, dashes and accents to the writing that they stand in or beside; returns those that stand alone. */
function attachSmall(groups: Blob[][], small: readonly Blob[], lines: readonly PixelLine[]): Blob[] {
  const uprights = lines.filter(({ direction }) => direction === "upright");
  const frames = groups.map(frameAround);
  let loose = [...small].sort((left, right) => left.left - right.left);
  // Three points in a row: each pass reaches one further.
  for (let pass = 0; pass < 3; pass++) {
    loose = loose.filter((blob) => {
      let best = -1;
      let nearest = Number.POSITIVE_INFINITY;
      for (const [index, frame] of frames.entries()) {
        const height = heightOf(frame);
        const middle = (blob.top + blob.bottom) / 2;
        if (middle < frame.top - 0.5 * height || middle > frame.bottom + 0.4 * height) continue;
        const distance = Math.max(0, frame.left - blob.right, blob.left - frame.right);
        // A comma hangs between its own line and the next one.
        const apart = distance + 2 * Math.max(0, frame.top - middle, middle - frame.bottom);
        if (distance > SMALL_REACH * height || apart >= nearest) continue;
        const [left, right] = blob.left < frame.left ? [blob, frame] : [frame, blob];
        if (distance > 0 && uprights.some((line) => isBetween(line, left, right))) continue;
        [best, nearest] = [index, apart];
      }
      if (best < 0) return true;
      groups[best]!.push(blob);
      // Wider, and as high as its letters: a point below them does not make the line lower.
      const { left, right } = frameAround([frames[best]!, blob]);
      frames[best] = { ...frames[best]!, left, right };
      return false;
    });
  }
  return loose;
}

function toStrip(group: readonly Blob[], usual: number): Strip {
  const tall = group.filter((blob) => heightOf(blob) >= SMALL * usual);
  const { left, right } = frameAround(group);
  const { top, bottom } = frameAround(tall.length > 0 ? tall : group);
  return {
    blobs: [...group].sort((one, other) => one.left - other.left),
    left,
    right,
    top,
    bottom,
    capHeight: bottom - top,
  };
}

/** "mm", "a" and "-" are lower than the digits beside them: the usual height of what stands on the same line. */
function capHeightAt(strip: Strip, strips: readonly Strip[], usual: number): number {
  const own = medianHeight(strip.blobs.filter((blob) => heightOf(blob) >= SMALL * usual));
  const middle = (strip.top + strip.bottom) / 2;
  const beside = strips
    .filter((other) => other !== strip && other.top <= middle && other.bottom >= middle)
    .flatMap(({ blobs }) => blobs)
    .filter((blob) => heightOf(blob) >= SMALL * usual);
  const near = beside.length >= 3 ? upperHeight(beside) : usual;
  if (own === 0) return near;
  return own < 0.85 * near && own > 0.55 * near ? near : Math.max(own, upperHeight(strip.blobs));
}

function medianHeight(blobs: readonly Blob[]): number {
  return blobs.map(heightOf).sort((left, right) => left - right)[Math.floor(blobs.length / 2)] ?? 0;
}

function upperHeight(blobs: readonly Blob[]): number {
  const heights = blobs.map(heightOf).sort((left, right) => left - right);
  return heights[Math.floor(0.7 * (heights.length - 1))] ?? 0;
}
