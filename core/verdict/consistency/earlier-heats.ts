import type { NumberedReading } from "../../certificate/certificate.js";
import type { EarlierReading } from "../../certificate/earlier-reading.js";
import { describePlace } from "../../certificate/evidence.js";
import { decimal } from "../../quantity/decimal.js";
import type { Judgement } from "../judgement.js";
import { castAnalysis, isSameValue, isSure, percent, percentText } from "./cast-analysis.js";
import { contradiction } from "./contradiction.js";

/**
 * A heat that was handed in before with another analysis. Only the cast analysis is compared: it belongs to the melt, while
 * mechanical results belong to the piece that was tested. `issuerOf`: who issued the document at this position.
 */
export function earlierContradictions(
  readings: readonly NumberedReading[],
  earlier: readonly EarlierReading[],
  issuerOf: (document: number) => string | undefined,
): readonly Judgement[] {
  const pairs = castAnalysis(readings)
    .filter(isSure)
    .flatMap((reading) => {
      const other = earlier.find((candidate) => differs(reading, candidate, issuerOf(reading.evidence.document)));
      return other ? [{ reading, other }] : [];
    })
    .filter(({ reading }, index, all) => all.findIndex((pair) => pair.reading.quantity === reading.quantity) === index);
  if (pairs.length === 0) return [];

  const values = pairs.map(({ reading, other }) => {
    const where = `${other.document.name}, ${describePlace(other.place)} (submission ${other.submission})`;
    return `${reading.quantity} ${percentText(reading)} here and ${other.value} % in ${where}`;
  });
  return [
    {
      ...contradiction(
        `the heat was handed in before with another analysis: ${values.join("; ")}`,
        pairs.map(({ reading }) => reading),
        "one melt has one heat analysis",
      ),
      earlier: pairs.map(({ other }) => other),
    },
  ];
}

function differs(reading: NumberedReading, other: EarlierReading, issuer: string | undefined): boolean {
  const value = percent(reading);
  return (
    reading.quantity === other.quantity &&
    value !== undefined &&
    mayBeOneMill(issuer, other.document.issuer) &&
    !isSameValue(value, decimal(other.value))
  );
}

/** Two mills may give two melts one number. Names are compared by their letters, and one may be the short form of the other. */
function mayBeOneMill(left: string | undefined, right: string | undefined): boolean {
  if (left === undefined || right === undefined) return true;
  const [one, other] = [letters(left), letters(right)];
  return one.startsWith(other) || other.startsWith(one);
}

function letters(name: string): string {
  return name
    .normalize("NFKD")
    .replace(/[^\p{L}\p{N}]/gu, "")
    .toLowerCase();
}
