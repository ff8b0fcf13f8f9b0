import { CONFIDENCE_THRESHOLD } from "../../core/certificate/certificate.js";
import type { Evidence } from "../../core/certificate/evidence.js";
import { pictureFinder, spotPicture } from "../../core/report/html/spots.js";
import { type Html, html } from "../../core/report/html/template.js";
import { placeText } from "../../core/report/place-text.js";
import type { Report } from "../../core/report/report.js";
import { isHeatNumberInDoubt, type SpotPicture } from "../../core/report/spot-picture.js";
import { LONGEST } from "../../worker/store/stated-texts.js";

/** What the reader did not trust enough to decide on, for a person to confirm with the document beside them. */
export function doubtfulReadingsForm(
  submission: string,
  report: Report,
  pictures: readonly SpotPicture[],
): Html | false {
  const find = pictureFinder(pictures);
  const doubtful = findDoubtful(report);
  if (doubtful.length === 0) return false;
  return html`<h2 id="readings">Readings to confirm</h2>
<p>These were not read surely enough to decide. Compare each with the document; correct it where it differs, and empty it where you cannot tell.</p>
<form method="post" action="/submissions/${submission}/corrections">
${doubtful.map(
  ({ label, evidence, value, printed, unit }, index) => html`<div class="field">
<label for="reading-${index}">${label}</label>
${spotPicture(evidence, "What stands there", report, find)}
<input id="reading-${index}" name="reading-${index}" value="${value}"${unit !== undefined && html` inputmode="decimal"`} aria-describedby="reading-${index}-hint">
<p class="hint" id="reading-${index}-hint">Read as <q>${printed}</q> in ${placeText(evidence, report)}</p>
</div>
`,
)}<div class="field"><label for="by">Compared by</label><input id="by" name="by" required maxlength="${LONGEST.person}" autocomplete="name"></div>
<button>Confirm and judge again</button>
</form>`;
}

/** The form's answer as corrections (JSON, version 1): unchanged values are confirmed, changed ones corrected. */
export function confirmedReadings(report: Report, form: Readonly<Record<string, unknown>>, now: Date): unknown {
  const items = findDoubtful(report).flatMap(({ evidence, quantity, value, unit }, index) => {
    const text = String(form[`reading-${index}`] ?? "").trim();
    if (text === "") return [];
    const given = unit === undefined ? text : text.replace(",", ".");
    const { document, ...place } = evidence;
    return {
      document: report.documents[document]?.sha256,
      evidence: place,
      quantity,
      ...(given === value ? {} : { value: given, ...(unit !== undefined && { unit }) }),
    };
  });
  return { corrections: 1, by: form.by, date: now.toISOString().slice(0, 10), items };
}

interface Doubtful {
  readonly label: string;
  readonly evidence: Evidence;
  /** As corrections name it: a quantity's symbol, or "heat". */
  readonly quantity: string;
  readonly value: string;
  readonly printed: string;
  /** Absent: a heat number. */
  readonly unit?: string;
}

/** Of each heat its number, wherever the documents name it, then its readings. */
function findDoubtful(report: Report): readonly Doubtful[] {
  return report.heats.flatMap((heat) => [
    ...(isHeatNumberInDoubt(heat) ? (heat.evidence ?? []) : []).map((evidence) => ({
      label: `Heat number ${heat.heat}`,
      evidence,
      quantity: "heat",
      value: heat.heat,
      printed: heat.heat,
    })),
    ...heat.readings
      .filter(({ confidence }) => confidence < CONFIDENCE_THRESHOLD)
      .map((reading) => ({ ...reading, label: `Heat ${heat.heat}, ${reading.quantity} in ${reading.unit}` })),
  ]);
}
