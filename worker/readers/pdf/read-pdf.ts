import type { PDFDocumentProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import { buildPageTables } from "../layout/page-tables.js";
import { writeDrafts } from "../layout/write-drafts.js";
import { createDoubtList, type Meter } from "../meter.js";
import type { PackedDocument, PackedTable } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { buildWords } from "./build-words.js";
import { openPdf } from "./open-pdf.js";
import { readPageInk } from "./page-ink.js";

/** Fewer characters than this beside a picture: the page is a scan with a stamp or a page number on it. */
const SCAN_CHARACTERS = 20;
const SCAN_PICTURE_SHARE = 0.4;

export async function readPdf(bytes: Buffer, meter: Meter): Promise<PackedDocument> {
  const pdf = await openPdf(bytes, meter);
  const doubts = createDoubtList(meter.budgets);
  const tables: PackedTable[] = [];
  const notes: string[] = [];
  try {
    for (let number = 1; number <= pdf.numPages; number++) {
      tables.push(...(await withinTime(readPage(pdf, number), number, meter)));
    }
  } finally {
    await pdf.loadingTask.destroy();
  }
  return { reader: "pdf", pages: pdf.numPages, tables, doubts: doubts.all(), notes };

  async function readPage(document: PDFDocumentProxy, number: number): Promise<PackedTable[]> {
    const page = await document.getPage(number);
    try {
      const ink = await readPageInk(page);
      const isScan = ink.pictureShare > SCAN_PICTURE_SHARE && ink.glyphs.length < SCAN_CHARACTERS;
      if (isScan) {
        doubts.add({ code: "scan-not-read", message: `Page ${number} is a picture and was not read.` });
      } else if (ink.unseenGlyphs > 0) {
        doubts.add({
          code: "hidden-text",
          message: `Page ${number} holds ${ink.unseenGlyphs} characters that are not visible; they were not read.`,
        });
      }
      const { words, rules } = buildWords(ink);
      return writeDrafts(buildPageTables(words, rules), number, meter);
    } finally {
      page.cleanup();
    }
  }
}

async function withinTime<T>(work: Promise<T>, page: number, { budgets }: Meter): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(
      () => reject(new ReadFailure("timed-out", `Page ${page} took longer than ${budgets.pageMs / 1000} seconds.`)),
      budgets.pageMs,
    );
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}
