import type { Certificate } from "../certificate/certificate.js";
import { findAnalysisLetters } from "./analysis-letters.js";
import { assembleCertificate } from "./assemble.js";
import type { ReadDocument } from "./cells.js";
import { type Context, evidenceOf } from "./context.js";
import { findDecimalSign } from "./decimal-sign.js";
import { findFootnotes } from "./footnotes.js";
import { joinContinuedTables } from "./join-continued-tables.js";
import { joinSplitHeaders } from "./join-split-headers.js";
import { readJsonCertificate } from "./read-json.js";
import { printedTexts, readTable, type TableContent } from "./read-table.js";
import { findReservations } from "./reservations.js";
import { splitPairs } from "./split-pairs.js";
import { createTitleReader } from "./title-reader.js";

/** Readers that cut one page into several tables: what stands above one of them holds for the next. */
const PAGED: ReadonlySet<ReadDocument["reader"]> = new Set(["pdf", "image", "text"]);

/**
 * Reads what one document says: cells in, readings and doubts out. It knows titles, units and layouts, and nothing of limits.
 * `documentIndex` is the document's position in the submission (from 0); it goes into the evidence.
 */
export function recognise(document: ReadDocument, documentIndex: number): Certificate {
  const shown = document.tables.filter((table) => !table.hidden);
  const titles = createTitleReader();
  const context: Context = {
    documentIndex,
    titles,
    doubts: [],
    notes: [],
    footnotes: findFootnotes(shown),
    analysisLetters: findAnalysisLetters(shown, titles),
  };
  for (const { place, ...doubt } of document.doubts) {
    context.doubts.push({ ...doubt, ...(place && { evidence: evidenceOf(context, place) }) });
  }
  if (document.tree) return readJsonCertificate(context, document.tree, document.reader);
  const documentSign = findDecimalSign(shown.flatMap(printedTexts));
  const tables: TableContent[] = [];
  const isPaged = PAGED.has(document.reader);
  const whole = isPaged
    ? joinContinuedTables(joinSplitHeaders(document.tables, context.titles), context.titles)
    : document.tables;
  for (const table of splitPairs(whole, context.titles, { byLetter: document.reader === "text" })) {
    const before = tables.at(-1);
    const said = isPaged || before?.context.tableName === table.name ? before?.said : undefined;
    const read = readTable(context, table, { documentSign, ...(said && { said }) });
    if (read) tables.push(read);
  }
  const lines = tables.flatMap(({ parts }) => parts.flatMap((part) => (part.kind === "line" ? [part.line] : [])));
  const reservations = findReservations(context, shown, lines);
  return { ...assembleCertificate(context, tables), ...(reservations.length > 0 && { reservations }) };
}
