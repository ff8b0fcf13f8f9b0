import { createDoubtList, type Meter } from "../meter.js";
import type { PackedDocument, PackedTable } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { openArchive } from "./archive.js";
import { findWorkbookParts } from "./package-parts.js";
import { readSheet } from "./read-sheet.js";
import { readSharedStrings } from "./shared-strings.js";
import { readStyles } from "./styles.js";

/**
 * An .xlsx workbook in one streaming pass over yauzl and saxes.
 *
 * ExcelJS, which writes our workbooks, does not read them: it takes number formats with unit letters for dates, and its
 * streaming reader (the one that survives hostile files) drops error cells, cuts ISO dates after the year, and throws on
 * cells without a name, which are legal.
 */
export async function readWorkbook(bytes: Buffer, meter: Meter): Promise<PackedDocument> {
  const archive = await openArchive(bytes, meter);
  const parts = await findWorkbookParts(archive);
  if (parts.sheets.length > meter.budgets.sheets) {
    throw new ReadFailure(
      "too-many-parts",
      `It has ${parts.sheets.length} sheets; ${meter.budgets.sheets} are allowed.`,
    );
  }
  const doubts = createDoubtList(meter.budgets);
  let formulas = 0;
  const context = {
    meter,
    styles: await readStyles(archive, parts.styles),
    strings: await readSharedStrings(archive, parts.sharedStrings, meter),
    from1904: parts.from1904,
    addDoubt: doubts.add,
    countFormula: () => {
      formulas++;
    },
  };
  const tables: PackedTable[] = [];
  for (const sheet of parts.sheets) {
    const table = await readSheet(archive, sheet.part, sheet.name, context);
    tables.push(sheet.hidden ? { ...table, hidden: true } : table);
  }

  const pictures = archive.names.filter((name) => name.startsWith("xl/media/")).length;
  return {
    reader: "xlsx",
    tables,
    pages: tables.length,
    doubts: doubts.all(),
    notes: [
      ...(formulas > 0 ? [`${formulas} cells hold formulas; the results last saved with the workbook were read`] : []),
      ...(pictures > 0 ? [`${pictures} pictures in the workbook were not read`] : []),
    ],
  };
}
