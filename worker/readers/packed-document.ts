import type { Place } from "../../core/certificate/evidence.js";
import type { Cell, ReadDocument, Table } from "../../core/recogniser/cells.js";
import { withoutBrokenCharacters } from "../well-formed.js";
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

type PackedCells = Pick<PackedTable, "rows" | "columns" | "texts" | "numbers" | "places" | "marks">;
type PackedHead = Omit<ReadDocument, "tables"> & { readonly tables: readonly Omit<PackedTable, keyof PackedCells>[] };
type PackedLine = PackedCells & { readonly table: number };

export function unpackDocument(document: PackedDocument): ReadDocument {
  const unpacker = createUnpacker();
  for (const line of packedLines(document)) unpacker.take(line);
  return unpacker.finish();
}

/** So much is in memory twice while it is unpacked. */
const CELLS_A_LINE = 2_000;

/** The document as lines of JSON: first all but the cells, then these piece by piece. */
export function* packedLines(document: PackedDocument): Generator<string> {
  const tables = document.tables.map(({ rows, columns, texts, numbers, places, marks, ...table }) => table);
  yield JSON.stringify({ ...document, tables } satisfies PackedHead);
  for (const [table, { rows, columns, texts, numbers, places, marks }] of document.tables.entries()) {
    for (let from = 0; from < rows.length; from += CELLS_A_LINE) {
      const to = from + CELLS_A_LINE;
      yield JSON.stringify({
        table,
        rows: rows.slice(from, to),
        columns: columns.slice(from, to),
        texts: texts.slice(from, to),
        numbers: numbers.slice(from, to),
        places: typeof places === "string" ? places : places.slice(from, to),
        marks: marks.slice(from, to),
      } satisfies PackedLine);
    }
  }
}

/** Puts a document together from its lines, in their order. */
export function createUnpacker(): { take(line: string): void; finish(): ReadDocument } {
  let head: PackedHead | undefined;
  let cells: Cell[][] = [];
  return {
    take(packed) {
      const line = withoutBrokenCharacters(packed);
      if (head) {
        const part = JSON.parse(line) as PackedLine;
        unpackCells(part, head.tables[part.table]!.markSets, cells[part.table]!);
        return;
      }
      head = JSON.parse(line) as PackedHead;
      cells = head.tables.map(() => []);
    },
    finish() {
      if (!head) throw new Error("a document has at least one line");
      const tables = head.tables.map(({ markSets: _, ...table }, index) => ({ ...table, cells: cells[index]! }));
      return { ...head, tables };
    },
  };
}

function unpackCells(
  { rows, columns, texts, numbers, places, marks }: PackedCells,
  markSets: readonly CellMarks[],
  cells: Cell[],
): void {
  rows.forEach((row, index) => {
    const column = columns[index]!;
    const text = texts[index]!;
    const number = numbers[index]!;
    const place = unpackPlace(places, row, column, index);
    const cell: Cell =
      number === 0
        ? { row, column, text, place, confidence: 1 }
        : { row, column, text, number: number === 1 ? text : number, place, confidence: 1 };
    const mark = marks[index]!;
    cells.push(mark === 0 ? cell : { ...cell, ...markSets[mark] });
  });
}

function unpackPlace(places: PackedTable["places"], row: number, column: number, index: number): Place {
  if (typeof places === "string") return { sheet: places, cell: cellReference(row, column) };
  const place = places[index]!;
  return typeof place === "number" ? { line: place, column: column + 1 } : place;
}
