import type { GrayImage } from "./gray-image.js";

/** Ink in one row (or column) of pixels, ends included. */
export interface LineRun {
  readonly across: number;
  readonly from: number;
  readonly to: number;
}

/** The blurred edge of a line, in pixels. */
const EDGE = 2;
/** So near beyond the edge lies the ink of a letter that is printed across the line. */
const REACH = 2;
const WHITE = 255;

/** One place along a line: where its ink and blurred edge begin and end across it. */
interface Slice {
  readonly along: number;
  readonly first: number;
  readonly last: number;
}

/**
 * Wipes a ruling line out of the picture, over its whole length and blurred edge. Where ink goes on beyond both of its edges, a
 * letter is printed across it, such as a title over several columns whose lines run through; its strokes stay.
 */
export function wipeLine(
  image: GrayImage,
  runs: readonly LineRun[],
  direction: "level" | "upright",
  threshold: number,
): void {
  const { width, height, pixels } = image;
  const depth = direction === "level" ? height : width;
  const indexOf = (across: number, along: number) =>
    direction === "level" ? across * width + along : along * width + across;
  const isInk = (across: number, along: number) =>
    across >= 0 && across < depth && pixels[indexOf(across, along)]! <= threshold;
  const goesOn = (edge: number, step: 1 | -1, along: number) =>
    Array.from({ length: REACH }, (_, index) => edge + step * (index + 1)).some((across) => isInk(across, along));
  const slices = slicesAlong(runs);
  const kept = findStrokes(
    slices,
    slices.map(({ along, first }) => goesOn(first, -1, along)),
    slices.map(({ along, last }) => goesOn(last, 1, along)),
  );
  for (const { along, first, last } of slices) {
    for (let across = Math.max(0, first); across <= Math.min(depth - 1, last); across++) {
      const index = indexOf(across, along);
      if (!kept.has(keyOf(across, along))) pixels[index] = WHITE;
    }
  }

  /** Pixels between ink above and ink below the line, straight or slanting by no more than the line is thick. */
  function findStrokes(all: readonly Slice[], above: readonly boolean[], below: readonly boolean[]): Set<number> {
    const strokes = new Set<number>();
    for (const [index, { first, last }] of all.entries()) {
      const furthest = last - first + 1;
      const nearest = (marks: readonly boolean[]) =>
        Array.from({ length: furthest + 1 }, (_, shift) => [index - shift, index + shift])
          .flat()
          .find((other) => marks[other]);
      const [under, over] = [above[index] ? nearest(below) : undefined, below[index] ? nearest(above) : undefined];
      if (under !== undefined) keepBetween(index, under);
      if (over !== undefined) keepBetween(over, index);
    }
    return strokes;

    function keepBetween(upper: number, lower: number): void {
      const [from, to] = [all[upper]!.first, all[lower]!.last];
      for (let across = from; across <= to; across++) {
        const along = all[upper]!.along + Math.round(((lower - upper) * (across - from)) / Math.max(1, to - from));
        strokes.add(keyOf(across, along));
      }
    }
  }

  function keyOf(across: number, along: number): number {
    return across * Math.max(width, height) + along;
  }
}

/** Where a run is broken, the line is as thick as just before. */
function slicesAlong(runs: readonly LineRun[]): Slice[] {
  const start = Math.min(...runs.map(({ from }) => from));
  const length = Math.max(...runs.map(({ to }) => to)) - start + 1;
  const first = new Int32Array(length).fill(-1);
  const last = new Int32Array(length).fill(-1);
  for (const { across, from, to } of runs) {
    for (let at = from - start; at <= to - start; at++) {
      if (first[at]! < 0 || across < first[at]!) first[at] = across;
      if (across > last[at]!) last[at] = across;
    }
  }
  const slices: Slice[] = [];
  let before = { first: first[0]!, last: last[0]! };
  for (let at = 0; at < length; at++) {
    if (first[at]! >= 0) before = { first: first[at]!, last: last[at]! };
    slices.push({ along: start + at, first: before.first - EDGE, last: before.last + EDGE });
  }
  return slices;
}
