import type { Statement } from "../certificate/certificate.js";
import type { Doubt, Place } from "../certificate/evidence.js";
import type { AnalysisLetters } from "./analysis-letters.js";
import type { Cell } from "./cells.js";
import type { DecimalSign } from "./decimal-sign.js";
import { type Footnotes, isHarmless, MARKED } from "./footnotes.js";
import type { TitleReader } from "./title-reader.js";

/** What every part of one recognition shares. */
export interface Context {
  readonly documentIndex: number;
  readonly titles: TitleReader;
  /** Doubts are collected in the order in which they were met. */
  readonly doubts: Doubt[];
  /** What was seen and rightly left alone: limits printed beside the results. */
  readonly notes: string[];
  /** Of the whole document. */
  readonly footnotes: Footnotes;
  /** Of the whole document. */
  readonly analysisLetters: AnalysisLetters;
}

/** As `Context`, for one table. */
export interface TableContext extends Context {
  readonly tableName: string;
  readonly decimalSign: DecimalSign;
  /** Ceiling for every reading of this table: 1, or less where its reconstruction is disputed. */
  readonly confidence: number;
}

export function evidenceOf(context: Context, place: Place) {
  return { document: context.documentIndex, ...place };
}

export function doubt(
  context: Context,
  code: string,
  message: string,
  place?: Place,
  about: { readonly heat?: string | undefined; readonly quantity?: string | undefined } = {},
): void {
  const found: Doubt = {
    code,
    message,
    ...(place && { evidence: evidenceOf(context, place) }),
    ...(about.heat !== undefined && { heat: about.heat }),
    ...(about.quantity !== undefined && { quantity: about.quantity }),
  };
  // "45/52/28" are three values of one cell.
  const last = context.doubts.at(-1);
  if (last?.message !== message || JSON.stringify(last) !== JSON.stringify(found)) context.doubts.push(found);
}

/** Something hangs on the cell, or stood in its place, that may make another thing of it. */
export function isQualified({ comment, covers }: Cell): boolean {
  return (comment !== undefined && !isHarmless(comment)) || covers !== undefined;
}

export function statementOf(context: Context, cell: Cell, printed = cell.text): Statement {
  // A narrow cell breaks a heat number in two.
  const value = printed.replace(/\s*\n\s*/g, " ");
  const confidence = isQualified(cell) ? Math.min(MARKED, cell.confidence) : cell.confidence;
  return { value, printed: value, confidence, evidence: evidenceOf(context, cell.place) };
}
