import { detectType } from "./detect-type.js";
import type { Meter } from "./meter.js";
import type { PackedDocument } from "./packed-document.js";
import { ReadFailure } from "./problem.js";
import type { DocumentHint } from "./read-result.js";
import { readTextTable } from "./text/read-text-table.js";
import { readJson } from "./tree/read-json.js";
import { readXmlTree } from "./tree/read-xml-tree.js";
import { readWorkbook } from "./workbook/read-workbook.js";

/** One untrusted document, read in this process: only the child calls it. Throws `ReadFailure` for what cannot be read. */
export async function readBytes(bytes: Buffer, hint: DocumentHint, meter: Meter): Promise<PackedDocument> {
  const type = detectType(bytes);
  switch (type) {
    case "zip":
      return readWorkbook(bytes, meter);
    case "json":
      return readJson(bytes, meter);
    case "xml":
      return readXmlTree(bytes, meter);
    case "text":
      return readTextTable(bytes, meter);
    // Libraries for pages and pictures are loaded when one comes: a laboratory's tables need neither.
    case "pdf":
      return (await import("./pdf/read-pdf.js")).readPdf(bytes, meter);
    case "png":
    case "jpeg":
      return (await import("./scan/read-image.js")).readImage(bytes, meter);
    case "tiff":
      throw new ReadFailure("unsupported-type", `"${hint.name}" is ${type.toUpperCase()}, which is not read yet.`);
  }
}
