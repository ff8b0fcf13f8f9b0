import { isTypewriter, isWithinReach, relativeGap, relativeWidth, type Segment, toSegment } from "./segments.js";
import type { Word } from "./word.js";

/** In heights of the line: a cell's edge may be as near as this, a space between the words of a phrase is nearer. */
const LEAST_EDGE = 0.42;
/** In widths of a character: in type of one width, a space is as wide as that. */
const TYPEWRITER_EDGE = 1.05;
/** The narrowest edge against the widest space that is left inside a piece. */
const EDGE_TO_SPACE = 1.05;
const FEWEST_PIECES = 3;
/** A neighbour further away, in heights of the line, belongs to something else. */
const REACH = 1.6;

/**
 * Tight tables: "Heat Notch location KV1 J KV2 J" has gaps that are too narrow to part cells by themselves. Where the row above or
 * below falls into more pieces, and the gaps between those run through gaps of this row, it is cut there.
 */
export function cutByNeighbours(rows: readonly (readonly Segment[])[]): Segment[][] {
  const cut = rows.map((row) => [...row]);
  // Down and up again, so that one well parted row helps all that touch it.
  for (let index = 1; index < cut.length; index++) cut[index] = cutBy(cut[index]!, cut[index - 1]!);
  for (let index = cut.length - 2; index >= 0; index--) cut[index] = cutBy(cut[index]!, cut[index + 1]!);
  return cut;
}

function cutBy(row: Segment[], whole: readonly Segment[]): Segment[] {
  if (whole.length < FEWEST_PIECES || row.length >= whole.length || !isWithinReach(row[0]!, whole[0]!, REACH))
    return row;
  // A row of units or factors has none over the heats.
  const [left, right] = [row[0]!.left, row.at(-1)!.right];
  const neighbour = whole.filter((segment) => segment.right > left && segment.left < right);
  if (neighbour.length < FEWEST_PIECES) return row;
  const words = row.flatMap((segment) => segment.words);
  if (words.length < neighbour.length) return row;
  const cuts = neighbour.slice(1).map((segment, index) => findCut(words, neighbour[index]!.right, segment.left));
  if (cuts.includes(-1) || new Set(cuts).size < cuts.length) return row;
  const pieces = [0, ...cuts].map((from, index) => words.slice(from, cuts[index]));
  return isPlain(pieces) ? pieces.map(toSegment) : row;
}

/**
 * A piece that stands over several pieces of the other line is cut between them, where its own gaps allow it; nothing where they
 * don't: then it is a title over several columns.
 */
export function cutWhereOthersPart(row: readonly Segment[], other: readonly Segment[]): Segment[] | undefined {
  const cut: Segment[] = [];
  for (const segment of row) {
    const met = other.filter(({ left, right }) => Math.min(right, segment.right) > Math.max(left, segment.left));
    const cuts = met.slice(1).map(({ left }, index) => findCut(segment.words, met[index]!.right, left));
    if (cuts.includes(-1) || new Set(cuts).size < cuts.length) return undefined;
    const pieces = [0, ...cuts].map((from, index) => segment.words.slice(from, cuts[index]));
    if (pieces.length > 1 && !isPlain(pieces)) return undefined;
    cut.push(...pieces.map(toSegment));
  }
  return cut;
}

/** Where the widest of the row's gaps lies that has a part between `from` and `to`: the position of the word after it. */
function findCut(words: readonly Word[], from: number, to: number): number {
  let widest = 0;
  let cut = -1;
  for (let index = 1; index < words.length; index++) {
    const [left, right] = [words[index - 1]!.right, words[index]!.left];
    if (left >= to || right <= from || right - left <= widest) continue;
    widest = right - left;
    cut = index;
  }
  return cut;
}

/** All edges are wider than all spaces. */
function isPlain(pieces: readonly (readonly Word[])[]): boolean {
  const edges = pieces.slice(1).map((piece, index) => relativeGap(pieces[index]!.at(-1)!, piece[0]!));
  const spaces = pieces.flatMap((piece) => piece.slice(1).map((word, index) => relativeGap(piece[index]!, word)));
  const narrowest = Math.min(...edges);
  const words = pieces.flat();
  const least = isTypewriter(words)
    ? Math.max(LEAST_EDGE, TYPEWRITER_EDGE * Math.max(...words.map(relativeWidth)))
    : LEAST_EDGE;
  return narrowest >= least && narrowest >= EDGE_TO_SPACE * Math.max(0, ...spaces);
}
