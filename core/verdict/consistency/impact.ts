import type { NumberedReading } from "../../certificate/certificate.js";
import { absolute, add, compare, decimal, formatDecimal, multiply, subtract } from "../../quantity/decimal.js";
import type { Quantity } from "../../quantity/quantity.js";
import { divideHalfEven } from "../../quantity/round.js";
import { collect } from "../collect.js";
import type { Judgement } from "../judgement.js";
import { contradiction } from "./contradiction.js";

/** A printed mean must follow from its pieces to less than one unit of its last place, however it was rounded. */
export function averageContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  return collect(readings, (average) => {
    if (average.statistic !== "average" || average.test === undefined || average.bound !== undefined) return undefined;
    const singles = readings.filter((reading) => isPieceOf(reading, average));
    if (singles.length < 2) return undefined;
    const count = { digits: BigInt(singles.length), places: 0 };
    const sum = singles.map((single) => single.value).reduce(add);
    const oneUnit = multiply({ digits: 1n, places: average.value.places }, count);
    const difference = absolute(subtract(sum, multiply(average.value, count)));
    if (compare(difference, oneUnit) < 0) return undefined;
    const mean = formatDecimal(divideHalfEven(sum, count, average.value.places + 1));
    return contradiction(
      `the stated average ${average.printed} does not follow from ${singles.map((single) => single.printed).join(", ")}, which average ${mean}`,
      [average, ...singles],
      "arithmetic",
    );
  });
}

function isPieceOf(reading: NumberedReading, average: NumberedReading): boolean {
  return (
    reading.statistic !== "average" &&
    reading.bound === undefined &&
    reading.test === average.test &&
    reading.quantity === average.quantity &&
    reading.unit === average.unit &&
    reading.evidence.document === average.evidence.document &&
    reading.retest === average.retest
  );
}

const WHOLE = decimal("100");
const SHARES: readonly Quantity[] = ["Z", "SFA"];

/** Shares that cannot exceed the whole. */
export function shareContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  return collect(readings, (reading) =>
    SHARES.includes(reading.quantity) && compare(reading.value, WHOLE) > 0
      ? contradiction(`${reading.quantity} ${reading.printed} % is above 100 %`, [reading], "by definition")
      : undefined,
  );
}
