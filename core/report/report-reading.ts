import type { NumberedReading, Reading } from "../certificate/certificate.js";
import { type Decimal, formatDecimal } from "../quantity/decimal.js";
import { formatMeasure } from "../quantity/measure.js";
import { reportUnit } from "../quantity/quantity.js";
import { roundHalfEven } from "../quantity/round.js";
import { convert } from "../quantity/unit.js";
import type { ReportReading } from "./report.js";

/** A reading as reported: SI as the standards use it, with the certificate's own print beside it. */
export function reportReading(reading: NumberedReading): ReportReading {
  const unit = reportUnit(reading.quantity);
  const converted = convert(reading.value, reading.unit, unit);
  const isAsStated = converted === undefined || reading.unit === unit;
  return {
    id: reading.id,
    quantity: reading.quantity,
    ...(reading.analysis && { analysis: reading.analysis }),
    printed: reading.printed,
    ...(!isAsStated && { stated: reading.unit }),
    value: formatDecimal(converted === undefined ? reading.value : shown(reading, converted)),
    unit: converted === undefined ? reading.unit : unit,
    ...(reading.bound && { bound: reading.bound }),
    confidence: reading.confidence,
    evidence: reading.evidence,
    ...(reading.zone && { zone: reading.zone }),
    ...(reading.temperature && { temperature: formatMeasure(reading.temperature) }),
    ...(reading.orientation && { orientation: reading.orientation }),
    ...(reading.specimenWidth && { specimen: `width ${formatMeasure(reading.specimenWidth)}` }),
    ...(reading.striker && { striker: reading.striker }),
    ...(reading.test !== undefined && { test: reading.test }),
    ...(reading.statistic && { statistic: reading.statistic }),
    ...(reading.retest && { retest: true }),
    ...(reading.notes && reading.notes.length > 0 && { notes: reading.notes }),
  };
}

/** One digit more than the paper prints; the judge compares the unrounded value. */
function shown(reading: Reading, converted: Decimal): Decimal {
  if (converted.places <= reading.value.places) return converted;
  const digits = significantDigits(reading.value) + 1;
  const whole = (converted.digits < 0n ? -converted.digits : converted.digits).toString().length - converted.places;
  return roundHalfEven(converted, Math.max(0, Math.min(converted.places, digits - whole)));
}

function significantDigits(value: Decimal): number {
  return (value.digits < 0n ? -value.digits : value.digits).toString().length;
}
