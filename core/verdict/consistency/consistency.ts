import type { LibraryGrade } from "../../grades/grade.js";
import { joined } from "../collect.js";
import type { HeatEvidence } from "../heat-evidence.js";
import type { Judgement } from "../judgement.js";
import { chemistryContradictions } from "./chemistry.js";
import { COMMON_PRACTICE, contradiction } from "./contradiction.js";
import { copiedLimitContradictions } from "./copied-limits.js";
import { averageContradictions, shareContradictions } from "./impact.js";
import { improbableUnitContradictions } from "./improbable-units.js";
import { statedIndexContradictions } from "./stated-index.js";
import { strengthContradictions } from "./strengths.js";
import { tensileRangeContradictions } from "./tensile-range.js";

/** Everything within one heat that does not fit together. What is compared across heats is in `across-heats`. */
export function heatContradictions(evidence: HeatEvidence, grades: readonly LibraryGrade[]): readonly Judgement[] {
  const { readings } = evidence;
  return joined([
    strengthContradictions(readings),
    chemistryContradictions(readings),
    averageContradictions(readings),
    shareContradictions(readings),
    tensileRangeContradictions(readings),
    improbableUnitContradictions(readings),
    statedIndexContradictions(readings),
    copiedLimitContradictions(readings, grades),
    evidence.facts.disagreements.map((what) =>
      contradiction(`requirement and documents disagree on the ${what}`, [], "order against documents"),
    ),
  ]);
}

/** "PRELIMINARY", "typical values": what the paper itself does not stand for cannot be relied on. */
export function reservationContradictions(
  certificates: readonly { readonly reservations?: readonly { readonly printed: string }[] }[],
): Judgement[] {
  const said = new Set(certificates.flatMap(({ reservations = [] }) => reservations.map(({ printed }) => printed)));
  return [...said].map((printed) =>
    contradiction(`a document says of itself ${JSON.stringify(printed)}`, [], COMMON_PRACTICE),
  );
}

/** A certificate cannot report a test that was made after it was signed. */
export function dateContradictions(
  certificates: readonly {
    readonly date?: { readonly value: string };
    readonly testDate?: { readonly value: string };
  }[],
) {
  return certificates.flatMap(({ date, testDate }): Judgement[] =>
    date && testDate && testDate.value > date.value
      ? [
          contradiction(
            `the test date ${testDate.value} is after the certificate's date ${date.value}`,
            [],
            "order of time",
          ),
        ]
      : [],
  );
}
