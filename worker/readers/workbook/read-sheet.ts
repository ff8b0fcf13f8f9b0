import type { Cell, PlacedDoubt } from "../../../core/recogniser/cells.js";
import type { Meter } from "../meter.js";
import type { PackedTable } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { createTableWriter } from "../table-writer.js";
import type { Archive } from "./archive.js";
import { readComments, readShapes } from "./beside-cells.js";
import { COLUMN_LIMIT, cellReference, parseCellReference, ROW_LIMIT } from "./cell-reference.js";
import { applyMerges, createMergeList } from "./merges.js";
import type { NumberFormat } from "./number-format.js";
import { readRelations, readXmlPart } from "./package-parts.js";
import { createRichTextBuilder, isOn, type RichText } from "./rich-text.js";
import { showNumber } from "./show-number.js";
import type { CellStyle } from "./styles.js";

export interface SheetContext {
  readonly meter: Meter;
  readonly strings: readonly (string | RichText)[];
  readonly styles: readonly CellStyle[];
  readonly from1904: boolean;
  addDoubt(doubt: PlacedDoubt): void;
  /** A formula whose last calculated result was read. */
  countFormula(): void;
}

interface RawCell {
  row: number;
  column: number;
  type: string;
  style: number;
  /** Undefined where there is no value at all, which is not the same as an empty one. */
  value: string | undefined;
  formula: string | undefined;
}

/** One pass over the sheet; of everything it may hold, only columns, rows, cells and merges are looked at. */
export async function readSheet(
  archive: Archive,
  part: string,
  name: string,
  context: SheetContext,
): Promise<PackedTable> {
  const writer = createTableWriter(name);
  const merges = createMergeList(context.meter.budgets.merges);
  const hiddenColumns: { from: number; to: number }[] = [];
  const relations = await readRelations(archive, part);
  // A table's own style colours cells behind the back of their own.
  const isStyled = relations.some(({ type }) => type === "table");
  const comments = await readComments(archive, relations, context.meter);
  const inline = createRichTextBuilder();
  let row = -1;
  let column = -1;
  let rowHidden = false;
  let raw: RawCell | undefined;
  let text = "";

  const found = await readXmlPart(archive, part, {
    open(element, attributes) {
      switch (element) {
        case "c":
          raw = startCell(attributes);
          break;
        case "v":
        case "f":
          text = "";
          break;
        case "row":
          context.meter.row();
          startRow(attributes);
          break;
        case "col":
          if (attributes.width === "0" || (attributes.hidden !== undefined && isOn(attributes.hidden))) {
            hiddenColumns.push({ from: Number(attributes.min) - 1, to: Number(attributes.max) - 1 });
          }
          break;
        case "mergeCell":
          merges.add(attributes.ref ?? "");
          break;
        default:
          if (raw) inline.open(element, attributes);
      }
    },
    text(piece) {
      text += piece;
      if (raw) inline.text(piece);
    },
    close(element) {
      if (!raw) {
        text = "";
        return;
      }
      if (element === "v") raw.value = text;
      else if (element === "f") raw.formula = text;
      else if (element === "c") finishCell(raw);
      else inline.close(element);
    },
  });
  for (const [cell, comment] of comments) {
    const message = `A comment on this cell says ${JSON.stringify(comment)}; see what that makes of its value.`;
    context.addDoubt({ code: "cell-comment", message, place: { sheet: name, cell } });
  }
  for (const paragraph of await readShapes(archive, relations, context.meter)) {
    const message = `A text box or shape on sheet "${name}" says ${JSON.stringify(paragraph)}; it was not read.`;
    context.addDoubt({ code: "shape-text", message });
  }
  if (!found) throw new ReadFailure("damaged", `The workbook names sheet "${name}" but does not hold it.`);
  const table = writer.finish({ name });
  assertOnePerPlace(table);
  applyMerges(table, merges.all());
  return table;

  function startRow({ r, hidden, ht }: Record<string, string>): void {
    row = r === undefined ? row + 1 : Number(r) - 1;
    if (!(row >= 0 && row < ROW_LIMIT)) throw new ReadFailure("damaged", `Sheet "${name}" has a row numbered ${r}.`);
    column = -1;
    rowHidden = (hidden !== undefined && isOn(hidden)) || ht === "0";
  }

  /** The name of a cell may be left out; it then follows its neighbour. */
  function startCell({ r, t = "n", s }: Record<string, string>): RawCell {
    const place = r === undefined ? { row, column: column + 1 } : parseCellReference(r);
    if (!place || place.row !== row || row < 0 || place.column >= COLUMN_LIMIT)
      throw new ReadFailure("damaged", `Sheet "${name}" has a misplaced cell ${r}.`);
    column = place.column;
    return { row, column, type: t, style: Number(s ?? 0), value: undefined, formula: undefined };
  }

  function finishCell(done: RawCell): void {
    raw = undefined;
    const shown = showCell(done);
    if (!shown || shown.text === "") return;
    context.meter.cell(shown.text);
    const style = context.styles[done.style];
    const unseen = !isStyled && style?.unseen;
    const hidden =
      shown.hidden ||
      unseen ||
      rowHidden ||
      hiddenColumns.some(({ from, to }) => done.column >= from && done.column <= to);
    const { hidden: _, bold, struck, ...cell } = shown;
    const comment = comments.size > 0 ? comments.get(cellReference(done.row, done.column)) : undefined;
    writer.add({
      row: done.row,
      column: done.column,
      ...cell,
      ...(hidden ? { hidden: true } : {}),
      ...(bold || style?.bold ? { bold: true } : {}),
      ...(struck || style?.struck ? { struck: true } : {}),
      ...(comment ? { comment } : {}),
    });
  }

  function showCell(done: RawCell): (Partial<Cell> & { text: string }) | undefined {
    const doubt = (code: string, message: string) => {
      context.addDoubt({ code, message, place: { sheet: name, cell: cellReference(done.row, done.column) } });
    };
    const { type, formula } = done;
    if (formula !== undefined) {
      if (done.value === undefined || (done.value === "" && type !== "str")) {
        doubt(
          "not-calculated",
          `The formula ${shorten(formula)} was never calculated. Open the workbook, let it calculate, and save it.`,
        );
        return { text: `=${shorten(formula)}` };
      }
      context.countFormula();
    }
    const value = done.value ?? "";
    switch (type) {
      case "s": {
        if (value === "") return undefined;
        const string = context.strings[Number(value)];
        if (string === undefined)
          throw new ReadFailure(
            "damaged",
            `Sheet "${name}" refers to a missing text in ${cellReference(done.row, done.column)}.`,
          );
        return showText(string, doubt);
      }
      case "inlineStr":
        return showText(inline.take(), doubt);
      case "str":
        return { text: value.trim() };
      case "b":
        return { text: value === "1" ? "TRUE" : "FALSE" };
      case "e":
        doubt("error-value", `The cell shows ${value}: its formula failed.`);
        return { text: value };
      case "d":
        return { text: value.replace("T", " "), date: value.slice(0, 10) };
      default:
        return showStored(value, done.style, doubt);
    }
  }

  function showStored(value: string, style: number, doubt: (code: string, message: string) => void) {
    if (value.trim() === "") return undefined;
    const stored = Number(value);
    if (!Number.isFinite(stored)) {
      doubt("not-a-number", `The cell says it holds a number but holds "${value.slice(0, 40)}".`);
      return { text: value.trim() };
    }
    const { instead, ...shown } = showNumber(stored, formatOf(style), context.from1904);
    if (instead !== undefined) {
      const message = `The cell holds ${instead} and its number format shows ${JSON.stringify(shown.text)}; neither was read.`;
      doubt("format-misleads", message);
    }
    return shown;
  }

  function formatOf(style: number): NumberFormat {
    return context.styles[style]?.format ?? { kind: "general" };
  }
}

function showText(string: string | RichText, doubt: (code: string, message: string) => void) {
  if (typeof string === "string") return { text: string.trim() };
  if (string.partlyStruck !== undefined) {
    doubt("partly-struck", `"${shorten(string.partlyStruck)}" is struck through in this cell and was left out.`);
  }
  const text = string.text.trim();
  return { text, ...(string.bold ? { bold: true } : {}), ...(string.struck ? { struck: true } : {}) };
}

function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

/** Two cells in one place: programs differ in which of the two they show. */
function assertOnePerPlace({ name, rows, columns }: PackedTable): void {
  const twice = rows.findIndex((row, index) => row === rows[index - 1] && columns[index] === columns[index - 1]);
  if (twice < 0) return;
  const place = cellReference(rows[twice]!, columns[twice]!);
  throw new ReadFailure("damaged", `Sheet "${name}" holds the cell ${place} twice.`);
}
