import type { ColumnKind } from "./column-names.js";

/** A heading whose kind and unit are understood. */
export interface KnownColumn {
  readonly column: number;
  readonly kind: ColumnKind;
  readonly name: string;
  /** To the unit that reduction computes in. */
  readonly factor: number;
}

/** The columns of one test piece. */
export interface ColumnGroup {
  readonly columns: readonly KnownColumn[];
  /** Columns of a kind that is there already: a second extensometer, say. */
  readonly leftAside: readonly KnownColumn[];
}

/**
 * Splits headings into those of each piece. Pieces stand side by side where the same kinds come again and each time make a whole
 * curve; anything else that comes again belongs to the one piece.
 */
export function groupColumns(columns: readonly KnownColumn[]): ColumnGroup[] {
  const runs = runsOf(columns);
  const kinds = runs.map(kindsOf);
  if (runs.length > 1 && runs.every(isCurve) && kinds.every((names) => names === kinds[0])) {
    return runs.map((run) => ({ columns: run, leftAside: [] }));
  }
  const first = columns.filter(({ kind }, index) => columns.findIndex((other) => other.kind === kind) === index);
  return [{ columns: first, leftAside: columns.filter((column) => !first.includes(column)) }];
}

/** A new run begins with a kind that the run before has already. */
function runsOf(columns: readonly KnownColumn[]): KnownColumn[][] {
  const runs: KnownColumn[][] = [];
  for (const column of columns) {
    const run = runs.at(-1);
    if (!run || run.some(({ kind }) => kind === column.kind)) runs.push([column]);
    else run.push(column);
  }
  return runs;
}

/** One column of time may serve all. */
function kindsOf(run: readonly KnownColumn[]): string {
  return run
    .map(({ kind }) => kind)
    .filter((kind) => kind !== "time")
    .sort()
    .join();
}

export function isCurve(columns: readonly { readonly kind: ColumnKind }[]): boolean {
  const has = (...kinds: readonly ColumnKind[]) => columns.some(({ kind }) => kinds.includes(kind));
  return has("force", "stress") && has("strain", "extension", "crosshead");
}
