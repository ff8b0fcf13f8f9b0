import { type Matrix, multiply } from "./matrix.js";
import { type Bounds, overlapOf } from "./paint-order.js";

export interface Font {
  readonly unit: number;
  readonly bold: boolean;
  readonly vertical: boolean;
}

export const PLAIN_FONT: Font = { unit: 0.001, bold: false, vertical: false };

/** What stands while operators are read, and is kept and restored with them. */
export interface GraphicsState {
  ctm: Matrix;
  fontSize: number;
  font: Font;
  charSpacing: number;
  wordSpacing: number;
  scale: number;
  leading: number;
  rise: number;
  renderingMode: number;
  /** "#rrggbb"; absent for a pattern. */
  fill: string | undefined;
  stroke: string | undefined;
  fillAlpha: number;
  strokeAlpha: number;
  lineWidth: number;
  /** Mixed with what lies below, by a blend mode or a soft mask. */
  isMixed: boolean;
  /** A soft mask was set or ended: pictures that bring a mask of their own are announced by this. */
  hasMask: boolean;
  /** Of the group that is being drawn; multiplies with that of what is drawn. */
  groupAlpha: number;
  isGroupMixed: boolean;
  /** Draws a mask, which shows nothing itself. */
  isMask: boolean;
  clip: Bounds;
}

const EVERYWHERE: Bounds = [-Infinity, -Infinity, Infinity, Infinity];

export function initialState(ctm: Matrix): GraphicsState {
  return {
    ctm,
    fontSize: 0,
    font: PLAIN_FONT,
    charSpacing: 0,
    wordSpacing: 0,
    scale: 1,
    leading: 0,
    rise: 0,
    renderingMode: 0,
    fill: "#000000",
    stroke: "#000000",
    fillAlpha: 1,
    strokeAlpha: 1,
    lineWidth: 1,
    isMixed: false,
    hasMask: false,
    groupAlpha: 1,
    isGroupMixed: false,
    isMask: false,
    clip: EVERYWHERE,
  };
}

/** The pairs of an extended graphics state, as far as they decide what is seen. Returns the font that it sets, if any. */
export function takeExtendedState(state: GraphicsState, pairs: readonly (readonly [string, unknown])[]) {
  let font: readonly [name: string, size: number] | undefined;
  for (const [key, value] of pairs) {
    if (key === "ca") state.fillAlpha = value as number;
    else if (key === "CA") state.strokeAlpha = value as number;
    else if (key === "LW") state.lineWidth = value as number;
    else if (key === "BM") state.isMixed = value !== "source-over";
    else if (key === "SMask") {
      state.hasMask = true;
      state.isMixed ||= Boolean(value);
    } else if (key === "Font") font = value as [string, number];
  }
  return font;
}

export interface Group {
  readonly matrix?: ArrayLike<number> | null;
  readonly bbox?: ArrayLike<number> | null;
  readonly smask?: unknown;
}

/** A group is drawn apart and laid on the page with the state that stands before it. */
export function enterGroup(state: GraphicsState, { matrix, bbox, smask }: Group): void {
  const placed = matrix ? multiply(state.ctm, matrix as unknown as Matrix) : state.ctm;
  if (bbox) clipTo(state, boundsOf(placed, bbox));
  state.groupAlpha *= state.fillAlpha;
  state.isGroupMixed ||= state.isMixed;
  state.isMask ||= Boolean(smask);
  Object.assign(state, { fillAlpha: 1, strokeAlpha: 1, isMixed: false, hasMask: false });
}

export function clipTo(state: GraphicsState, bounds: Bounds): void {
  state.clip = overlapOf(state.clip, bounds);
}

/** The box around a box [x1, y1, x2, y2] of user space. */
export function boundsOf([a, b, c, d, e, f]: Matrix, box: ArrayLike<number>): Bounds {
  const [x1, y1, x2, y2] = [box[0]!, box[1]!, box[2]!, box[3]!];
  const xs = [a * x1 + c * y1, a * x1 + c * y2, a * x2 + c * y1, a * x2 + c * y2];
  const ys = [b * x1 + d * y1, b * x1 + d * y2, b * x2 + d * y1, b * x2 + d * y2];
  return [Math.min(...xs) + e, Math.min(...ys) + f, Math.max(...xs) + e, Math.max(...ys) + f];
}

/** Whether boxes of user space stay boxes. */
export function isUpright([a, b, c, d]: Matrix): boolean {
  const slant = 0.01;
  const isLevel = Math.abs(b) <= slant * Math.abs(a) && Math.abs(c) <= slant * Math.abs(d);
  const isTurned = Math.abs(a) <= slant * Math.abs(b) && Math.abs(d) <= slant * Math.abs(c);
  return isLevel || isTurned;
}
