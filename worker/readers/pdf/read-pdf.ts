import type { PDFDocumentProxy, PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { PlacedDoubt } from "../../../core/recogniser/cells.js";
import { buildPageTables } from "../layout/page-tables.js";
import { roundBox, type Word } from "../layout/word.js";
import { writeDrafts } from "../layout/write-drafts.js";
import { createDoubtList, type Meter } from "../meter.js";
import type { PackedDocument, PackedTable } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { buildWords } from "./build-words.js";
import { openPdf } from "./open-pdf.js";
import { markCommented, type PageComment, readComments } from "./page-comments.js";
import { readPageInk } from "./page-ink.js";

/** A page that is mostly picture and has fewer characters than this is a scan, with a fax line or a stamp on it perhaps. */
const SCAN_CHARACTERS = 200;
const SCAN_PICTURE_SHARE = 0.4;
/** Bigger than a logo: it may show values. */
const UNREAD_PICTURE_SHARE = 0.12;
/** So many painted-over words of a page are named; the count of unseen characters covers the rest. */
const MOST_OVERPAINTED = 5;

export async function readPdf(bytes: Buffer, meter: Meter): Promise<PackedDocument> {
  const pdf = await openPdf(bytes, meter);
  const layers = await pdf.getOptionalContentConfig();
  const doubts = createDoubtList(meter.budgets);
  const tables: PackedTable[] = [];
  const notes: string[] = [];
  try {
    for (let number = 1; number <= pdf.numPages; number++) {
      tables.push(...(await readPage(pdf, number)));
    }
  } finally {
    await pdf.loadingTask.destroy();
  }
  return { reader: "pdf", pages: pdf.numPages, tables, doubts: doubts.all(), notes };

  async function readPage(document: PDFDocumentProxy, number: number): Promise<PackedTable[]> {
    const page = await document.getPage(number);
    try {
      const ink = await withinTime(readPageInk(page, layers), number, meter);
      const comments = await readComments(page);
      for (const comment of comments) doubts.add(doubtComment(comment, number));
      if (ink.pictureShare > SCAN_PICTURE_SHARE && ink.glyphs.length < SCAN_CHARACTERS) {
        return await readScannedPage(page, number, { comments, hasHiddenText: ink.unseenGlyphs > 0 });
      }
      const { words, rules, overpainted } = buildWords(ink);
      for (const word of overpainted.slice(0, MOST_OVERPAINTED)) doubts.add(doubtOverpainted(word, number));
      if (ink.unseenGlyphs > 0) {
        doubts.add({
          code: "hidden-text",
          message: `Page ${number} holds ${ink.unseenGlyphs} characters that are not visible; they were not read.`,
        });
      }
      if (ink.pictureShare > UNREAD_PICTURE_SHARE) notes.push(`page ${number}: a picture beside the text was not read`);
      return writeDrafts(buildPageTables(markCommented(words, comments), rules), number, meter);
    } finally {
      page.cleanup();
    }
  }

  async function readScannedPage(
    page: PDFPageProxy,
    number: number,
    { comments, hasHiddenText }: { comments: readonly PageComment[]; hasHiddenText: boolean },
  ): Promise<PackedTable[]> {
    meter.scannedPage();
    const { scanPage } = await import("./scan-page.js");
    const { scan, note } = await scanPage(page, number);
    notes.push(note);
    if (hasHiddenText) notes.push(`page ${number}: the hidden text that came with the scan was not used`);
    const drafts = buildPageTables(markCommented(scan.words, comments), scan.rules);
    if (drafts.length === 0)
      doubts.add({ code: "no-text", message: `No writing was found on page ${number}, a scan.` });
    return writeDrafts(drafts, number, meter);
  }
}

function doubtComment({ text, bounds: [left, top, right, bottom] }: PageComment, page: number): PlacedDoubt {
  const message = `A comment on page ${page} says ${JSON.stringify(text)}; see what that makes of the values at its place.`;
  const box = roundBox([left, top, right - left, bottom - top]);
  return { code: "page-comment", message, place: { page, box } };
}

function doubtOverpainted({ text, box }: Word, page: number): PlacedDoubt {
  const message = `${JSON.stringify(text.slice(0, 40))} on page ${page} was painted over; it was not read. See whether the page was changed.`;
  return { code: "painted-over", message, place: { page, box: roundBox(box) } };
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
