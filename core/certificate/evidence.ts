/** Where something stood in one document, in the document's own terms. Pages, lines and columns count from 1. */
export type Place =
  /** PDF or image: box is [x, y, width, height] from the top left of the page, in points (pixels for an image). */
  | { readonly page: number; readonly box: readonly [number, number, number, number] }
  | { readonly sheet: string; readonly cell: string }
  | { readonly line: number; readonly column: number }
  /** JSON Pointer, RFC 6901. */
  | { readonly pointer: string };

/** A place in one of the submission's documents, by its position in the submission (from 0). */
export type Evidence = Place & { readonly document: number };

/**
 * Something seen that could not be read or placed. Never dropped: it goes into the report.
 * `code` is a short kebab-case word; `message` a plain sentence that says what stood there and what to do.
 */
export interface Doubt {
  readonly code: string;
  readonly message: string;
  readonly evidence?: Evidence;
  /** The heat it concerns, where known. A doubt with a heat and a quantity makes that quantity's findings undetermined. */
  readonly heat?: string;
  readonly quantity?: string;
}

export function describePlace(place: Place): string {
  if ("page" in place) return `page ${place.page}`;
  if ("sheet" in place) return `sheet ${place.sheet}, cell ${place.cell}`;
  if ("line" in place) return `line ${place.line}, column ${place.column}`;
  return place.pointer === "" ? "the document" : place.pointer;
}
