import type { Grade } from "./grade.js";

/** Year of an edition as cited: "07e1" and "2007" are 2007, "98" is 1998. Standards bodies wrote two digits until the 2000s. */
export function editionYear(text: string): number | undefined {
  const match = /(?:^|[^\d])((?:19|20)\d{2}|\d{2})(?:[A-Z]?(?:E\d)?)?(?:$|[^\d])/i.exec(text.trim());
  if (!match) return undefined;
  const digits = match[1]!;
  if (digits.length === 4) return Number(digits);
  return Number(digits) + (Number(digits) >= 50 ? 1900 : 2000);
}

/** A file whose edition has no years holds for any: its sources did not say which edition they printed. */
export function editionCovers(edition: Grade["edition"], year: number): boolean {
  return (edition.from === undefined || year >= edition.from) && (edition.to === undefined || year <= edition.to);
}

/** Newest first: by first year; a superseded one comes last, and one without a year before it. */
export function newestFirst(left: Grade["edition"], right: Grade["edition"]): number {
  return rank(right) - rank(left);
}

function rank(edition: Grade["edition"]): number {
  if (edition.superseded) return -1;
  return edition.from ?? 0;
}
