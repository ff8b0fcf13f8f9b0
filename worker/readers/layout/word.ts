/** [x, y, width, height] from the top left of the page as shown. */
export type Box = readonly [number, number, number, number];

/** A run of ink without a space in it. */
export interface Word {
  readonly text: string;
  /** Where it lies in the upright frame that tables are built in. */
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  /** Where it lies on the page as shown; differs from the frame where the page's writing is turned. */
  readonly box: Box;
  readonly confidence: number;
  readonly bold?: boolean;
  readonly struck?: boolean;
  /** Other writing at this place, over which it was painted. */
  readonly covers?: string;
  /** What a comment that hangs on this place says. */
  readonly comment?: string;
}

/** A ruling line, level or upright, in the same frame as the words. */
export interface Rule {
  readonly direction: "level" | "upright";
  /** y of a level line, x of an upright one. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

export function unionBox(boxes: readonly Box[]): Box {
  const left = Math.min(...boxes.map(([x]) => x));
  const top = Math.min(...boxes.map(([, y]) => y));
  const right = Math.max(...boxes.map(([x, , width]) => x + width));
  const bottom = Math.max(...boxes.map(([, y, , height]) => y + height));
  return [left, top, right - left, bottom - top];
}

/** As places are told: a tenth of a point is finer than any eye. */
export function roundBox([x, y, width, height]: Box): [number, number, number, number] {
  const toTenth = (points: number) => Math.round(points * 10) / 10;
  return [toTenth(x), toTenth(y), toTenth(width), toTenth(height)];
}

/** Looks like a value: digits, with the signs that measured values carry. */
export function isNumeric(text: string): boolean {
  return /^[<>≤≥~±(]*[+\-−–]?\d[\d.,/]*\)?[%*]?$|^[+\-−]?[.,]\d+$/.test(text);
}
