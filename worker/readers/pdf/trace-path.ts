import { apply, type Matrix } from "./matrix.js";

/** A straight stroke or the edge of a thin filled box. */
export interface Stroke {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
}

/** A filled box no thicker than this is a drawn line. */
const THIN = 2.5;

/** The library's packed paths: 0 move, 1 line, 2 cubic curve, 3 quadratic curve, 4 close. */
const ARGUMENTS = [2, 2, 6, 4, 0];

/** The straight edges of a path: all of a stroked one; of a filled one only where it is thin enough to be a line. */
export function tracePath(path: Float32Array, ctm: Matrix, isStroked: boolean): Stroke[] {
  const strokes: Stroke[] = [];
  let outline: Stroke[] = [];
  let start: [number, number] = [0, 0];
  let current: [number, number] = [0, 0];
  const finishOutline = () => {
    strokes.push(...(isStroked ? outline : thinBox(outline)));
    outline = [];
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
    }
    current = next;
    at = end;
  }
  finishOutline();
  return strokes;
}

/** A thin filled box becomes one line along its middle. */
function thinBox(outline: readonly Stroke[]): Stroke[] {
  if (outline.length === 0) return [];
  const xs = outline.flatMap(({ fromX, toX }) => [fromX, toX]);
  const ys = outline.flatMap(({ fromY, toY }) => [fromY, toY]);
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
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
