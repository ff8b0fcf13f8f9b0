import type { Certificate, Reading } from "../../../core/certificate/certificate.js";
import { formatDecimal } from "../../../core/quantity/decimal.js";
import { formatMeasure } from "../../../core/quantity/measure.js";

/** A certificate in short lines for comparing: "H1: C 0.021 % heat", low confidence marked with "?". */
export function tell(certificate: Certificate): string[] {
  return certificate.heats.flatMap(({ heat, readings }) =>
    readings.map((reading) => `${heat.value}: ${tellReading(reading)}`),
  );
}

export function tellReading(reading: Reading): string {
  const {
    quantity,
    bound = "",
    value,
    unit,
    analysis,
    zone,
    temperature,
    orientation,
    specimenWidth,
    striker,
    statistic,
    retest,
    confidence,
  } = reading;
  return [
    quantity,
    `${bound}${formatDecimal(value)}`,
    unit,
    analysis,
    zone,
    temperature && formatMeasure(temperature),
    orientation,
    specimenWidth && `w${formatMeasure(specimenWidth)}`,
    striker && `r${striker}`,
    statistic === "average" && "average",
    retest && "retest",
    confidence < 0.85 && "?",
  ]
    .filter(Boolean)
    .join(" ");
}
