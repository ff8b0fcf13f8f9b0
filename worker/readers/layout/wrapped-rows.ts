import { cutWhereOthersPart } from "./cut-by-neighbours.js";
import { type Segment, toSegment } from "./segments.js";
import { isNumeric } from "./word.js";

/** Lines of one row share at least this part of their height with a neighbour that stands between them. */
const LEAST_OVERLAP = 0.05;

/**
 * Rows whose cells were broken into lines: "Parent / metal" with its values halfway between the two. Lines that reach into each
 * other are one row, as long as each piece stands over or under one piece only: a title over several columns is no broken line.
 */
export function mergeWrapped(rows: readonly (readonly Segment[])[]): Segment[][] {
  const merged: Segment[][] = [];
  for (let index = 0; index < rows.length; ) {
    let end = index + 1;
    while (end < rows.length && reachesInto(rows[end - 1]!, rows[end]!)) end++;
    const chain = rows.slice(index, end);
    const row = chain.length > 1 ? stack(chain) : undefined;
    if (row) merged.push(row);
    else merged.push(...chain.map((line) => [...line]));
    index = end;
  }
  return merged;
}

function reachesInto(above: readonly Segment[], below: readonly Segment[]): boolean {
  return above.some((upper) =>
    below.some((lower) => {
      const shared = Math.min(upper.bottom, lower.bottom) - Math.max(upper.top, lower.top);
      return shared > LEAST_OVERLAP * Math.min(upper.bottom - upper.top, lower.bottom - lower.top);
    }),
  );
}

/** The lines as one row, or nothing where they are several rows after all. */
function stack(lines: readonly (readonly Segment[])[]): Segment[] | undefined {
  let cells: readonly Segment[] = [];
  for (const line of lines) {
    const upper = cutWhereOthersPart(cells, line);
    const lower = upper && cutWhereOthersPart(line, upper);
    if (!lower) return undefined;
    const next: Segment[] = [];
    for (const cell of upper) {
      const under = lower.filter((piece) => sharesColumn(cell, piece));
      // Two values under each other are two rows; a heat number's halves are not, but they have neither point nor comma.
      if (under.length > 1 || (under[0] && isMeasured(cell) && isMeasured(under[0]))) return undefined;
      next.push(under[0] ? toSegment([...cell.words, ...under[0].words]) : cell);
    }
    next.push(...lower.filter((piece) => !upper.some((cell) => sharesColumn(cell, piece))));
    cells = next.sort((left, right) => left.left - right.left);
  }
  return cells.length < 2 ? undefined : [...cells];
}

function sharesColumn(upper: Segment, lower: Segment): boolean {
  return Math.min(upper.right, lower.right) - Math.max(upper.left, lower.left) > 0;
}

export function isMeasured({ words }: Pick<Segment, "words">): boolean {
  return words.every(({ text }) => isNumeric(text)) && words.some(({ text }) => /[.,]\d|^\d{1,2}$/.test(text));
}
