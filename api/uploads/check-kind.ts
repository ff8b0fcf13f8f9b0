import { Problem } from "../problems.js";
import type { KeptFile } from "./keep-document.js";
import { type KindOfFile, kindOfFile } from "./kind-of-file.js";

/** What a declared type lets the bytes be. Types not listed here promise nothing, and the bytes decide. */
const PROMISES: Readonly<Record<string, readonly KindOfFile[]>> = {
  "application/pdf": ["pdf"],
  "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": ["zip"],
  "application/zip": ["zip"],
  "application/x-zip-compressed": ["zip"],
  "application/json": ["text"],
  "image/png": ["png"],
  "image/jpeg": ["jpeg"],
  "image/tiff": ["tiff"],
};

/** Refuses what cannot become a reading whatever is done with it, so that the sender hears it at once. */
export function checkKind(name: string, mediaType: string, file: KeptFile): void {
  if (file.bytes === 0) throw new Problem("document-empty", { detail: `${name} has no bytes.` });
  const kind = kindOfFile(file.head);
  if (kind === "ole") {
    const detail = `${name} is an old .xls workbook or one with a password.`;
    throw new Problem("type-not-read", { detail });
  }
  if (kind === "binary")
    throw new Problem("type-not-read", { detail: `${name} is neither a workbook, a PDF nor text.` });
  const promised = PROMISES[mediaType];
  if (promised && !promised.includes(kind)) {
    throw new Problem("type-not-as-declared", {
      detail: `${name} is declared as ${mediaType} but its bytes are ${NAMES[kind]}.`,
    });
  }
}

const NAMES: Readonly<Record<KindOfFile, string>> = {
  zip: "a ZIP archive or a workbook",
  pdf: "a PDF",
  ole: "an old Office file",
  png: "a PNG picture",
  jpeg: "a JPEG picture",
  tiff: "a TIFF picture",
  text: "text",
  binary: "no known format",
};
