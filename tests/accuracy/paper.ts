/** An invented paper before it is drawn. What a faultless reading finds stands on the cells themselves. */
export interface Paper {
  readonly family: string;
  readonly seed: number;
  readonly parts: readonly Part[];
  readonly printing?: Printing;
  /** It says of itself that it does not count yet; a faultless reading states that. */
  readonly isReserved?: boolean;
}

/** What a family asks of the printer; sheets and text files know nothing of it. */
export interface Printing {
  /** Titles are broken into lines, long words with a hyphen. */
  readonly narrow?: boolean;
  readonly condensed?: boolean;
  /** Upright paper with the writing turned a quarter. */
  readonly sideways?: boolean;
  readonly ruling?: "none";
  /** The last row of titles is written from the bottom to the top. */
  readonly turnedTitles?: boolean;
  /** Long texts between the results are broken into lines. */
  readonly narrowBody?: boolean;
}

export type Part =
  | { readonly kind: "text"; readonly cell: Cell }
  | { readonly kind: "fields"; readonly pairs: readonly (readonly [label: Cell, value: Cell])[] }
  /** Tables that stand side by side; mostly it is one. */
  | { readonly kind: "tables"; readonly tables: readonly Table[] }
  /** Workbooks begin a sheet of that name; on pages the name is a heading. */
  | { readonly kind: "sheet"; readonly name: string }
  /** What follows stands on a page of its own; sheets and text files go on. */
  | { readonly kind: "page" };

export interface Table {
  readonly cells: readonly PlacedCell[];
  readonly width: number;
  readonly height: number;
  /** Rows of titles on top. */
  readonly headRows: number;
  /** The titles stand again on every further page. */
  readonly repeatsHead: boolean;
}

export interface PlacedCell {
  readonly cell: Cell;
  readonly row: number;
  readonly column: number;
}

export interface Cell {
  /** "" is an empty cell. */
  readonly text: string;
  readonly columns: number;
  readonly rows: number;
  /** The results that stand in it: none in a title, three in "98/102/95". */
  readonly truths: readonly Truth[];
  /** The heat that it names. */
  readonly heat?: string;
}

/** One result. What is left out is not said on the paper. */
export interface Truth {
  readonly heat: string;
  readonly quantity: string;
  /** With a decimal point, multiplier applied. */
  readonly value: string;
  readonly unit: string;
  readonly bound?: string;
  readonly analysis?: string;
  readonly zone?: string;
  /** "-196 °C", as measures are formatted. */
  readonly temperature?: string;
  readonly orientation?: string;
  readonly specimenWidth?: string;
  readonly striker?: 2 | 8;
  readonly average?: boolean;
  readonly retest?: boolean;
  /** The paper takes it back, or says it of other metal: a faultless reading is not sure of it. */
  readonly isDoubtful?: boolean;
  /** Results of one set of test pieces, or of one tensile piece, share this name; no others have it. */
  readonly set?: string;
}

/** Every result of a paper with the cell that it stands in. */
export function truthsOf(paper: Paper): { readonly cell: Cell; readonly truth: Truth }[] {
  return paper.parts.flatMap(cellsOf).flatMap((cell) => cell.truths.map((truth) => ({ cell, truth })));
}

export function cellsOf(part: Part): Cell[] {
  if (part.kind === "text") return [part.cell];
  if (part.kind === "fields") return part.pairs.flat();
  return part.kind === "tables" ? part.tables.flatMap(({ cells }) => cells.map(({ cell }) => cell)) : [];
}
