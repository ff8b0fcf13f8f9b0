import type { GrayImage } from "./gray-image.js";

/** A rectangle of pixels; the right and bottom edge are outside. */
export interface Frame {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Ink that hangs together. */
export interface Blob extends Frame {
  /** Pixels of ink. */
  readonly ink: number;
}

/** The least frame that holds them all. */
export function frameAround(frames: readonly Frame[]): Frame {
  return {
    left: Math.min(...frames.map(({ left }) => left)),
    top: Math.min(...frames.map(({ top }) => top)),
    right: Math.max(...frames.map(({ right }) => right)),
    bottom: Math.max(...frames.map(({ bottom }) => bottom)),
  };
}

interface Run {
  readonly from: number;
  readonly to: number;
  readonly label: number;
}

/** More than any written page has: noise over the whole sheet, where each speck would cost as much as a letter. */
const MOST_BLOBS = 60_000;

/**
 * Pieces of ink that touch, corners included, from top to bottom. Nothing where the picture falls into more pieces than writing
 * does.
 */
export function findBlobs({ width, height, pixels }: GrayImage, threshold: number): Blob[] {
  const boxes: GrowingBlob[] = [];
  const parents: number[] = [];
  const rootOf = (label: number): number => {
    let root = label;
    while (parents[root] !== root) root = parents[root]!;
    parents[label] = root;
    return root;
  };
  let above: Run[] = [];
  for (let y = 0; y < height; y++) {
    const runs: Run[] = [];
    let next = 0;
    for (let x = 0; x < width; x++) {
      if (pixels[y * width + x]! > threshold) continue;
      const from = x;
      while (x < width && pixels[y * width + x]! <= threshold) x++;
      let label = -1;
      while (next < above.length && above[next]!.to < from) next++;
      for (let index = next; index < above.length && above[index]!.from <= x; index++) {
        const root = rootOf(above[index]!.label);
        if (label >= 0 && root !== label) absorb(boxes[label]!, boxes[root]!);
        if (label >= 0) parents[root] = label;
        else label = root;
      }
      if (label < 0) {
        label = boxes.length;
        parents.push(label);
        boxes.push({ left: from, top: y, right: x, bottom: y + 1, ink: 0 });
      }
      absorb(boxes[label]!, { left: from, top: y, right: x, bottom: y + 1, ink: x - from });
      runs.push({ from, to: x, label });
    }
    above = runs;
  }
  const blobs = boxes.filter((_, label) => parents[label] === label);
  return blobs.length > MOST_BLOBS ? [] : blobs;
}

type GrowingBlob = { -readonly [Side in keyof Blob]: Blob[Side] };

function absorb(into: GrowingBlob, other: Blob): void {
  if (into === other) return;
  into.left = Math.min(into.left, other.left);
  into.top = Math.min(into.top, other.top);
  into.right = Math.max(into.right, other.right);
  into.bottom = Math.max(into.bottom, other.bottom);
  into.ink += other.ink;
}
