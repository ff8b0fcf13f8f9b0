import { type DocumentType, detectType } from "./detect-type.js";
import type { Meter } from "./meter.js";
import type { PackedDocument } from "./packed-document.js";
import type { DocumentHint } from "./read-result.js";
import { readTextTable } from "./text/read-text-table.js";
import { readJson } from "./tree/read-json.js";
import { readXmlTree } from "./tree/read-xml-tree.js";
import { readWorkbook } from "./workbook/read-workbook.js";

/** One untrusted document, read in this process: only the child calls it. Throws `ReadFailure` for what cannot be read. */
export async function readBytes(bytes: Buffer, hint: DocumentHint, meter: Meter): Promise<PackedDocument> {
  const type = detectType(bytes);
  const document = await readAs(type, bytes, meter);
  const ending = /\.([a-z]{3,4})$/i.exec(hint.name)?.[1]?.toLowerCase() ?? "";
  const named = (Object.keys(ENDINGS) as DocumentType[]).find((candidate) => ENDINGS[candidate].includes(ending));
  if (named === undefined || named === type) return document;
  return { ...document, notes: [...(document.notes ?? []), `named .${ending}, but its content is ${CONTENT[type]}`] };
}

const ENDINGS: Record<DocumentType, readonly string[]> = {
  zip: ["xlsx", "xlsm"],
  json: ["json"],
  xml: ["xml"],
  text: ["csv", "tsv", "txt", "dat", "eml"],
  pdf: ["pdf"],
  png: ["png"],
  jpeg: ["jpg", "jpeg"],
  tiff: ["tif", "tiff"],
};

const CONTENT: Record<DocumentType, string> = {
  zip: "a workbook",
  json: "JSON",
  xml: "XML",
  text: "text",
  pdf: "a PDF",
  png: "a PNG picture",
  jpeg: "a JPEG picture",
  tiff: "a TIFF picture",
};

async function readAs(type: DocumentType, bytes: Buffer, meter: Meter): Promise<PackedDocument> {
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
    case "tiff":
      return (await import("./scan/read-image.js")).readImage(bytes, meter);
  }
}
