import type { Report } from "./report.js";

/** A report that rests on what a person changed must say so where its verdict stands. */
export function correctionsText({ by, date, items }: NonNullable<Report["corrections"]>): string {
  return `${items} ${items === 1 ? "reading" : "readings"} confirmed or corrected by ${by}, ${date}`;
}
