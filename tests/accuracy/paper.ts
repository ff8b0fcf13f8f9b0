/** An invented paper before it is drawn: what stands on it, and what a faultless reading of it finds. */
export interface Paper {
  readonly family: string;
  readonly seed: number;
  readonly parts: readonly Part[];
  readonly truth: readonly Truth[];
}

export type Part =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "fields"; readonly pairs: readonly (readonly [label: string, value: string])[] }
  | { readonly kind: "table"; readonly rows: readonly (readonly DrawnCell[])[] };

/** A text, or one that spans several columns. "" is an empty cell. */
export type DrawnCell = string | readonly [text: string, columns: number];

export interface Truth {
  readonly heat: string;
  readonly quantity: string;
  /** With a decimal point, multiplier applied. */
  readonly value: string;
  readonly unit: string;
  readonly bound?: string;
  readonly analysis?: string;
  readonly zone?: string;
  readonly temperature?: string;
  readonly average?: boolean;
}
