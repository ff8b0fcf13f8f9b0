import { createRequire } from "node:module";
import path from "node:path";
import type { PDFDocumentProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Meter } from "../meter.js";
import { ReadFailure } from "../problem.js";

/** Loaded with the first PDF: most documents of a laboratory are tables, and the library takes a fifth of a second. */
export const loadPdfLibrary = () => import("pdfjs-dist/legacy/build/pdf.mjs");

export async function openPdf(bytes: Buffer, meter: Meter): Promise<PDFDocumentProxy> {
  const { getDocument } = await loadPdfLibrary();
  const folder = path.dirname(createRequire(import.meta.url).resolve("pdfjs-dist/package.json"));
  // Paths, not URLs: under Node the library reads these with the file system.
  const pathOf = (name: string) => `${path.join(folder, name)}${path.sep}`;
  try {
    const pdf = await getDocument({
      data: new Uint8Array(bytes),
      isEvalSupported: false,
      stopAtErrors: false,
      enableXfa: false,
      disableFontFace: true,
      useSystemFonts: false,
      useWorkerFetch: false,
      cMapUrl: pathOf("cmaps"),
      cMapPacked: true,
      standardFontDataUrl: pathOf("standard_fonts"),
      wasmUrl: pathOf("wasm"),
      iccUrl: pathOf("iccs"),
      maxImageSize: meter.budgets.imagePixels,
      verbosity: 0,
    }).promise;
    if (pdf.numPages > meter.budgets.pages) {
      throw new ReadFailure("too-many-pages", `It has ${pdf.numPages} pages; ${meter.budgets.pages} are allowed.`);
    }
    return pdf;
  } catch (error) {
    throw explain(error, bytes);
  }
}

function explain(error: unknown, bytes: Buffer): ReadFailure {
  if (error instanceof ReadFailure) return error;
  const { name, message } = error as Error;
  if (name === "PasswordException") return new ReadFailure("encrypted", "The PDF opens only with a password.");
  const ended = bytes.subarray(-2_048).includes("%%EOF");
  if (!ended) return new ReadFailure("truncated", "The file starts like a PDF but its end is missing.");
  return new ReadFailure("damaged", `The PDF cannot be opened: ${message.slice(0, 120)}.`);
}
