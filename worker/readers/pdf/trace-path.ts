import { apply, type Matrix } from "./matrix.js";
import type { Bounds } from "./paint-order.js";

/** A straight stroke or the edge of a thin filled box. */
export interface Stroke {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
}

export interface TracedPath {
  /** The straight edges: all of a stroked path; of a filled one only where it is thin enough to be a line. */
  readonly strokes: readonly Stroke[];
  /** What a filled path covers, one for each of its outlines. */
  readonly areas: readonly { readonly bounds: Bounds; readonly isBox: boolean }[];
  /** The box around all of it; absent for a path without points. */
  readonly extent: Bounds | undefined;
}

/** A filled box no thicker than this is a drawn line. */
const THIN = 2.5;

/** The library's packed paths: 0 move, 1 line, 2 cubic curve, 3 quadratic curve, 4 close. */
const ARGUMENTS = [2, 2, 6, 4, 0];

export function tracePath(path: Float32Array, ctm: Matrix, isStroked: boolean): TracedPath {
  const strokes: Stroke[] = [];
  const areas: { bounds: Bounds; isBox: boolean }[] = [];
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  let outline: Stroke[] = [];
  let isCurved = false;
  let start: [number, number] = [0, 0];
  let current: [number, number] = [0, 0];
  const finishOutline = () => {
    if (outline.length > 0) {
      const bounds = boundsOf(outline);
      strokes.push(...(isStroked ? outline : thinBox(bounds)));
      areas.push({
        bounds,
        isBox: !isCurved && outline.length >= 3 && outline.every((edge) => isEdgeOf(bounds, edge)),
      });
    }
    outline = [];
    isCurved = false;
  };

  for (let at = 0; at < path.length; ) {
    const operator = path[at]!;
    const end = at + 1 + (ARGUMENTS[operator] ?? path.length);
    const next: [number, number] = operator === 4 ? start : apply(ctm, path[end - 2]!, path[end - 1]!);
    if (operator === 0) {
      finishOutline();
      start = next;
    } else if (operator === 1 || operator === 4) {
      outline.push({ fromX: current[0], fromY: current[1], toX: next[0], toY: next[1] });
    } else isCurved = true;
    for (let point = at + 1; point < end; point += 2) {
      const [x, y] = apply(ctm, path[point]!, path[point + 1]!);
      [left, right] = [Math.min(left, x), Math.max(right, x)];
      [top, bottom] = [Math.min(top, y), Math.max(bottom, y)];
    }
    current = next;
    at = end;
  }
  finishOutline();
  return { strokes, areas, extent: left <= right ? [left, top, right, bottom] : undefined };
}

function boundsOf(outline: readonly Stroke[]): Bounds {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { fromX, fromY, toX, toY } of outline) {
    left = Math.min(left, fromX, toX);
    right = Math.max(right, fromX, toX);
    top = Math.min(top, fromY, toY);
    bottom = Math.max(bottom, fromY, toY);
  }
  return [left, top, right, bottom];
}

/** Points; boxes are drawn with rounded figures. */
const SLACK = 0.1;

function isEdgeOf([left, top, right, bottom]: Bounds, { fromX, fromY, toX, toY }: Stroke): boolean {
  const isOn = (from: number, to: number, sides: readonly number[]) =>
    sides.some((side) => Math.abs(from - side) <= SLACK && Math.abs(to - side) <= SLACK);
  return isOn(fromX, toX, [left, right]) || isOn(fromY, toY, [top, bottom]);
}

/** A thin filled box becomes one line along its middle. */
function thinBox([left, top, right, bottom]: Bounds): Stroke[] {
  if (bottom - top <= THIN && right - left > THIN) {
    const y = (top + bottom) / 2;
    return [{ fromX: left, fromY: y, toX: right, toY: y }];
  }
  if (right - left <= THIN && bottom - top > THIN) {
    const x = (left + right) / 2;
    return [{ fromX: x, fromY: top, toX: x, toY: bottom }];
  }
  return [];
}
