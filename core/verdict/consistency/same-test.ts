import type { NumberedReading } from "../../certificate/certificate.js";
import { compare } from "../../quantity/decimal.js";

/** Whether two readings come from one test piece, as far as the document tells. */
export function isSameTest(left: NumberedReading, right: NumberedReading): boolean {
  return (
    left.evidence.document === right.evidence.document &&
    left.test === right.test &&
    left.zone === right.zone &&
    left.orientation === right.orientation &&
    sameTemperature(left, right)
  );
}

function sameTemperature(left: NumberedReading, right: NumberedReading): boolean {
  if (!left.temperature || !right.temperature) return left.temperature === right.temperature;
  return (
    left.temperature.unit === right.temperature.unit && compare(left.temperature.value, right.temperature.value) === 0
  );
}
