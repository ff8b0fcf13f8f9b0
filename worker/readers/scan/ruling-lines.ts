import type { GrayImage, InkLevels } from "./gray-image.js";
import { type LineRun, wipeLine } from "./wipe-line.js";

/** A line in pixels, ends included. */
export interface PixelLine {
  readonly direction: "level" | "upright";
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

interface Line {
  last: number;
  from: number;
  to: number;
  readonly runs: LineRun[];
}

/** Specks and the teeth of JPEG break a line; so much white in it is bridged. */
const BRIDGE_INCH = 0.012;
/** So much of a line is ink; the tops of small letters in a row are bridged too, but are mostly gaps. */
const LEAST_COVERED = 0.9;
const LEAST_INCH = { level: 0.3, upright: 0.2 };
/** A line that is fainter than writing has to be longer and even: the feet of a word's letters with their soft edges are neither. */
const LEAST_FAINT_INCH = { level: 0.6, upright: 0.3 };
/** In greys: how far the middle three fifths of a faint line's pixels lie apart. */
const MOST_UNEVEN = 45;
/** Thicker than this it is a bar or a shaded field. */
const THICKEST_INCH = 0.04;
/** In greys: a line is at least so much darker than what lies on either side of it, be it paper or a shaded field. */
const LEAST_CONTRAST = 12;
/** Rows of pixels without ink inside a line. */
const LOST_ROWS = 2;

/**
 * Finds ruling lines as long straight runs of ink and wipes them out of the picture: text recognition takes upright lines for
 * letters, and whole rows of a ruled table for a drawing.
 */
export function takeRulingLines(image: GrayImage, levels: InkLevels, dpi: number): PixelLine[] {
  const directions = ["level", "upright"] as const;
  const found = directions.map((direction) => ({ direction, lines: findLines(image, levels, dpi, direction) }));
  for (const { direction, lines } of found) {
    for (const { runs } of lines) wipeLine(image, runs, direction, levels.ink);
  }
  return found.flatMap(({ direction, lines }) => lines.map((line) => toPixelLine(line, direction)));
}

function findLines(image: GrayImage, levels: InkLevels, dpi: number, direction: "level" | "upright"): Line[] {
  const thickest = Math.max(3, Math.round(THICKEST_INCH * dpi));
  const leastFaint = LEAST_FAINT_INCH[direction] * dpi;
  const marks = markInk(image, levels, thickest, direction);
  const lines = new Set<Line>();
  let open: Line[] = [];
  const depth = direction === "level" ? image.height : image.width;
  for (let across = 0; across < depth; across++) {
    open = open.filter((line) => line.last >= across - LOST_ROWS);
    for (const run of findRuns(image, marks, dpi, direction, across)) {
      const [line, ...others] = open.filter(({ from, to }) => run.from <= to && run.to >= from);
      if (!line) {
        const started: Line = { last: across, from: run.from, to: run.to, runs: [run] };
        lines.add(started);
        open.push(started);
        continue;
      }
      extend(line, [run]);
      line.last = across;
      for (const other of others) {
        extend(line, other.runs);
        lines.delete(other);
        open = open.filter((candidate) => candidate !== other);
      }
    }
  }
  // A slightly slanted line is higher than it is thick: what counts is the ink per length.
  return [...lines].filter((line) => {
    const length = line.to - line.from + 1;
    const ink = line.runs.reduce((sum, run) => sum + run.to - run.from + 1, 0);
    if (ink / length > thickest) return false;
    return isDark(image, line, levels.ink, direction) || (length >= leastFaint && isEven(image, line, direction));
  });
}

function extend(line: Line, runs: readonly LineRun[]): void {
  for (const run of runs) {
    line.from = Math.min(line.from, run.from);
    line.to = Math.max(line.to, run.to);
    line.runs.push(run);
  }
}

/** 1 for what is as dark as writing, or darker than what lies on both sides of it in the direction across the line. */
function markInk(
  { width, height, pixels }: GrayImage,
  { ink, paper }: InkLevels,
  thickest: number,
  direction: "level" | "upright",
): Uint8Array {
  const marks = new Uint8Array(pixels.length);
  const [step, depth] = direction === "level" ? [width, height] : [1, width];
  const reaches = [1, 2, 3].map((third) => Math.ceil((third * thickest) / 3));
  const lightest = (index: number, across: number, side: 1 | -1) => {
    let light = 0;
    for (const reach of reaches) {
      const beside = across + side * reach;
      light = Math.max(light, beside < 0 || beside >= depth ? paper : pixels[index + side * reach * step]!);
    }
    return light;
  };
  for (let index = 0; index < pixels.length; index++) {
    const pixel = pixels[index]!;
    if (pixel > paper - LEAST_CONTRAST) continue;
    const across = direction === "level" ? Math.floor(index / width) : index % width;
    const isMarked =
      pixel <= ink ||
      (pixel <= lightest(index, across, -1) - LEAST_CONTRAST && pixel <= lightest(index, across, 1) - LEAST_CONTRAST);
    if (isMarked) marks[index] = 1;
  }
  return marks;
}

function findRuns(
  { width, height }: GrayImage,
  marks: Uint8Array,
  dpi: number,
  direction: "level" | "upright",
  across: number,
): LineRun[] {
  const length = direction === "level" ? width : height;
  const step = direction === "level" ? 1 : width;
  const start = direction === "level" ? across * width : across;
  const bridge = Math.max(1, Math.round(BRIDGE_INCH * dpi));
  const least = Math.round(LEAST_INCH[direction] * dpi);
  const runs: LineRun[] = [];
  let from = -1;
  let lastInk = -1;
  let covered = 0;
  const finish = () => {
    const length = lastInk - from + 1;
    if (from >= 0 && length >= least && covered >= LEAST_COVERED * length) runs.push({ across, from, to: lastInk });
  };
  for (let along = 0; along < length; along++) {
    if (marks[start + along * step] === 0) continue;
    if (from < 0 || along - lastInk > bridge + 1) {
      finish();
      from = along;
      covered = 0;
    }
    covered++;
    lastInk = along;
  }
  finish();
  return runs;
}

/** One of its rows of pixels is as dark as writing. */
function isDark(image: GrayImage, { runs }: Line, ink: number, direction: "level" | "upright"): boolean {
  return runs.some((run) => {
    const pixels = pixelsOf(image, run, direction);
    return pixels.filter((pixel) => pixel <= ink).length >= LEAST_COVERED * pixels.length;
  });
}

/** Its longest row of pixels is as grey everywhere, but for some letters that it touches. */
function isEven(image: GrayImage, { runs }: Line, direction: "level" | "upright"): boolean {
  const longest = runs.reduce((long, run) => (run.to - run.from > long.to - long.from ? run : long));
  const pixels = pixelsOf(image, longest, direction).sort();
  return pixels[Math.floor(0.8 * pixels.length)]! - pixels[Math.floor(0.2 * pixels.length)]! <= MOST_UNEVEN;
}

function pixelsOf({ width, pixels }: GrayImage, { across, from, to }: LineRun, direction: "level" | "upright") {
  if (direction === "level") return pixels.slice(across * width + from, across * width + to + 1);
  return Uint8Array.from({ length: to - from + 1 }, (_, index) => pixels[(from + index) * width + across]!);
}

function toPixelLine({ runs, from, to }: Line, direction: "level" | "upright"): PixelLine {
  const rows = runs.map(({ across }) => across);
  return { direction, at: (Math.min(...rows) + Math.max(...rows)) / 2, from, to };
}
