import type { PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import type { Word } from "../layout/word.js";
import { boundsOf } from "./graphics-state.js";
import type { Matrix } from "./matrix.js";
import { type Bounds, holdsMiddle } from "./paint-order.js";

/** What somebody hung on a place of the page: it shows when the place is pointed at, and in no print. */
export interface PageComment {
  readonly text: string;
  readonly bounds: Bounds;
}

interface Annotation {
  readonly subtype?: string;
  readonly rect?: readonly number[];
  readonly annotationFlags?: number;
  readonly contentsObj?: { readonly str?: string };
}

/** The kinds of ISO 32000-2, 12.5.6 whose text is a remark. The text of the others is drawn on the page, or they have none. */
const KINDS = ["Text", "Highlight", "Underline", "Squiggly", "StrikeOut", "Caret", "Stamp", "Square", "Circle", "Ink"];
const HIDDEN = 2;
const LONGEST = 200;

export async function readComments(page: PDFPageProxy): Promise<PageComment[]> {
  const { transform } = page.getViewport({ scale: 1 });
  const annotations = (await page.getAnnotations()) as Annotation[];
  return annotations.flatMap(({ subtype = "", rect, annotationFlags = 0, contentsObj }) => {
    const text = (contentsObj?.str ?? "").replace(/\s+/g, " ").trim().slice(0, LONGEST);
    if (!KINDS.includes(subtype) || !rect || text === "" || (annotationFlags & HIDDEN) !== 0) return [];
    return [{ text, bounds: boundsOf(transform as unknown as Matrix, rect) }];
  });
}

/** A word under a comment carries it. */
export function markCommented(words: readonly Word[], comments: readonly PageComment[]): readonly Word[] {
  if (comments.length === 0) return words;
  return words.map((word) => {
    const [x, y, width, height] = word.box;
    const over = comments.filter(({ bounds }) => holdsMiddle(bounds, [x, y, x + width, y + height]));
    return over.length > 0 ? { ...word, comment: over.map(({ text }) => text).join("; ") } : word;
  });
}
