import { CONFIDENCE_THRESHOLD } from "../../core/certificate/certificate.js";
import { pictureFinder, spotPicture } from "../../core/report/html/spots.js";
import { type Html, html } from "../../core/report/html/template.js";
import { placeText } from "../../core/report/place-text.js";
import type { Report, ReportReading } from "../../core/report/report.js";
import type { SpotPicture } from "../../core/report/spot-picture.js";

/** What the reader did not trust enough to decide on, for a person to confirm with the document beside them. */
export function doubtfulReadingsForm(
  submission: string,
  report: Report,
  pictures: readonly SpotPicture[],
): Html | false {
  const find = pictureFinder(pictures);
  const doubtful = doubtfulReadings(report);
  if (doubtful.length === 0) return false;
  return html`<h2 id="readings">Readings to confirm</h2>
<p>These were not read surely enough to decide. Compare each with the document; correct it where it differs, and empty it where you cannot tell.</p>
<form method="post" action="/submissions/${submission}/corrections">
${doubtful.map(
  ({ heat, reading }, index) => html`<div class="field">
<label for="reading-${index}">Heat ${heat}, ${reading.quantity} in ${reading.unit}</label>
${spotPicture(reading.evidence, "What stands there", report, find)}
<input id="reading-${index}" name="reading-${index}" value="${reading.value}" inputmode="decimal" aria-describedby="reading-${index}-hint">
<p class="hint" id="reading-${index}-hint">Read as <q>${reading.printed}</q> in ${placeText(reading.evidence, report)}</p>
</div>
`,
)}<div class="field"><label for="by">Compared by</label><input id="by" name="by" required maxlength="120" autocomplete="name"></div>
<button>Confirm and judge again</button>
</form>`;
}

/** The form's answer as corrections (JSON, version 1): unchanged values are confirmed, changed ones corrected. */
export function confirmedReadings(report: Report, form: Readonly<Record<string, unknown>>, now: Date): unknown {
  const items = doubtfulReadings(report).flatMap(({ reading }, index) => {
    const text = String(form[`reading-${index}`] ?? "")
      .trim()
      .replace(",", ".");
    if (text === "") return [];
    const { document, ...place } = reading.evidence;
    return {
      document: report.documents[document]?.sha256,
      evidence: place,
      quantity: reading.quantity,
      ...(text === reading.value ? {} : { value: text, unit: reading.unit }),
    };
  });
  return { corrections: 1, by: form.by, date: now.toISOString().slice(0, 10), items };
}

function doubtfulReadings(report: Report): readonly { readonly heat: string; readonly reading: ReportReading }[] {
  return report.heats.flatMap(({ heat, readings }) =>
    readings.filter(({ confidence }) => confidence < CONFIDENCE_THRESHOLD).map((reading) => ({ heat, reading })),
  );
}
