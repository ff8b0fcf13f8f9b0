import type { Place } from "../../core/certificate/evidence.js";
import type { Cell, ReadDocument, Table } from "../../core/recogniser/cells.js";
import { cellReference } from "./workbook/cell-reference.js";

/**
 * A document on its way from the child: each table's cells as columns of values. As objects, a curve of 200,000 rows would
 * take some 200 bytes a cell in the child, and as much again in repeated key names on the way.
 */
export type PackedDocument = Omit<ReadDocument, "tables"> & { readonly tables: readonly PackedTable[] };

export interface PackedTable extends Omit<Table, "cells"> {
  readonly rows: number[];
  readonly columns: number[];
  readonly texts: string[];
  /** Decimal text; 0 for "no number", 1 for "as the text". */
  readonly numbers: (string | 0 | 1)[];
  /** A sheet's name: places follow from row and column. Else one by one: a line whose column follows, or the place itself. */
  readonly places: string | (number | Place)[];
  /** For each cell a position in `markSets`. */
  readonly marks: number[];
  /** What few cells have, each combination once; the first is empty. */
  readonly markSets: CellMarks[];
}

export type CellMarks = Partial<Omit<Cell, "row" | "column" | "text" | "number" | "place">>;

export function unpackDocument(document: PackedDocument): ReadDocument {
  return { ...document, tables: document.tables.map(unpackTable) };
}

function unpackTable({ rows, columns, texts, numbers, places, marks, markSets, ...table }: PackedTable): Table {
  const cells = rows.map((row, index): Cell => {
    const column = columns[index]!;
    const text = texts[index]!;
    const number = numbers[index]!;
    const place = unpackPlace(places, row, column, index);
    const cell: Cell =
      number === 0
        ? { row, column, text, place, confidence: 1 }
        : { row, column, text, number: number === 1 ? text : number, place, confidence: 1 };
    const mark = marks[index]!;
    return mark === 0 ? cell : { ...cell, ...markSets[mark] };
  });
  return { ...table, cells };
}

function unpackPlace(places: PackedTable["places"], row: number, column: number, index: number): Place {
  if (typeof places === "string") return { sheet: places, cell: cellReference(row, column) };
  const place = places[index]!;
  return typeof place === "number" ? { line: place, column: column + 1 } : place;
}
