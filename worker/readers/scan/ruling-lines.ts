import type { GrayImage } from "./gray-image.js";

/** A line in pixels, ends included. */
export interface PixelLine {
  readonly direction: "level" | "upright";
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

interface Run {
  readonly across: number;
  readonly from: number;
  readonly to: number;
}

interface Line {
  first: number;
  last: number;
  from: number;
  to: number;
  readonly runs: Run[];
}

/** Specks and the teeth of JPEG break a line; so much white in it is bridged. */
const BRIDGE_INCH = 0.012;
/** So much of a line is ink; the tops of small letters in a row are bridged too, but are mostly gaps. */
const LEAST_COVERED = 0.9;
const LEAST_INCH = { level: 0.3, upright: 0.2 };
/** Thicker than this it is a bar or a shaded field. */
const THICKEST_INCH = 0.04;

/**
 * Finds ruling lines as long straight runs of ink and wipes them out of the picture: text recognition takes upright lines for
 * letters, and whole rows of a ruled table for a drawing.
 */
export function takeRulingLines(image: GrayImage, threshold: number, dpi: number): PixelLine[] {
  const levels = findLines(image, threshold, dpi, "level");
  const uprights = findLines(image, threshold, dpi, "upright");
  for (const line of levels) wipe(image, line, "level");
  for (const line of uprights) wipe(image, line, "upright");
  return [...levels.map((line) => toPixelLine(line, "level")), ...uprights.map((line) => toPixelLine(line, "upright"))];
}

function findLines(image: GrayImage, threshold: number, dpi: number, direction: "level" | "upright"): Line[] {
  const thickest = Math.max(3, Math.round(THICKEST_INCH * dpi));
  const lines: Line[] = [];
  let open: Line[] = [];
  const depth = direction === "level" ? image.height : image.width;
  for (let across = 0; across < depth; across++) {
    const stillOpen: Line[] = [];
    for (const run of findRuns(image, threshold, dpi, direction, across)) {
      const line = open.find(
        (candidate) => run.from <= candidate.to && run.to >= candidate.from && candidate.last >= across - 2,
      );
      if (line) {
        line.last = across;
        line.from = Math.min(line.from, run.from);
        line.to = Math.max(line.to, run.to);
        line.runs.push(run);
        stillOpen.push(line);
      } else {
        const started: Line = { first: across, last: across, from: run.from, to: run.to, runs: [run] };
        lines.push(started);
        stillOpen.push(started);
      }
    }
    open = [...new Set([...stillOpen, ...open.filter((line) => line.last >= across - 2)])];
  }
  // A slightly slanted line is higher than it is thick: what counts is the ink per length.
  return lines.filter((line) => {
    const ink = line.runs.reduce((sum, run) => sum + run.to - run.from + 1, 0);
    return ink / (line.to - line.from + 1) <= thickest;
  });
}

function findRuns(
  { width, height, pixels }: GrayImage,
  threshold: number,
  dpi: number,
  direction: "level" | "upright",
  across: number,
): Run[] {
  const length = direction === "level" ? width : height;
  const step = direction === "level" ? 1 : width;
  const start = direction === "level" ? across * width : across;
  const bridge = Math.max(1, Math.round(BRIDGE_INCH * dpi));
  const least = Math.round(LEAST_INCH[direction] * dpi);
  const runs: Run[] = [];
  let from = -1;
  let lastInk = -1;
  let covered = 0;
  const finish = () => {
    const length = lastInk - from + 1;
    if (from >= 0 && length >= least && covered >= LEAST_COVERED * length) runs.push({ across, from, to: lastInk });
  };
  for (let along = 0; along < length; along++) {
    if (pixels[start + along * step]! > threshold) continue;
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

/** The runs and their blurred edge. */
function wipe({ width, height, pixels }: GrayImage, line: Line, direction: "level" | "upright"): void {
  const depth = direction === "level" ? height : width;
  for (const { across, from, to } of line.runs) {
    for (let beside = Math.max(0, across - 2); beside <= Math.min(depth - 1, across + 2); beside++) {
      if (direction === "level") pixels.fill(255, beside * width + from, beside * width + to + 1);
      else for (let along = from; along <= to; along++) pixels[along * width + beside] = 255;
    }
  }
}

function toPixelLine({ first, last, from, to }: Line, direction: "level" | "upright"): PixelLine {
  return { direction, at: (first + last) / 2, from, to };
}
