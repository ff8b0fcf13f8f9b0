import { placeText } from "../place-text.js";
import { onOneLine } from "../printable.js";
import type { Report, ReportDocument } from "../report.js";

/** So many doubts of one kind are shown a document; the report as JSON and HTML has them all. */
const SHOWN = 3;

export function doubtLines(report: Report): readonly string[] {
  return report.documents.flatMap((document) => linesOf(document, report));
}

function linesOf({ name, doubts }: ReportDocument, report: Report): readonly string[] {
  const counts = new Map<string, number>();
  const shown = doubts.flatMap(({ code, message, evidence }) => {
    const count = (counts.get(code) ?? 0) + 1;
    counts.set(code, count);
    return count > SHOWN ? [] : [onOneLine(`Doubt: ${evidence ? placeText(evidence, report) : name}: ${message}`)];
  });
  const more = [...counts]
    .filter(([, count]) => count > SHOWN)
    .map(([code, count]) =>
      onOneLine(`Doubt: ${name}: ${count - SHOWN} more of the kind "${code}"; the other formats have them all.`),
    );
  return [...shown, ...more];
}
