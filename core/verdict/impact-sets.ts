import type { NumberedReading } from "../certificate/certificate.js";
import { compare, type Decimal, decimal, multiply, shift } from "../quantity/decimal.js";
import { formatMeasure, type Measure, measureIn } from "../quantity/measure.js";
import type { Quantity } from "../quantity/quantity.js";
import { roundHalfEven } from "../quantity/round.js";
import { convert, type Unit } from "../quantity/unit.js";
import { compareStriker } from "../requirement/striker.js";
import { compareTestTemperature } from "../requirement/test-temperature.js";
import { select } from "./collect.js";
import { zoneMatches } from "./conditions.js";
import { groupBy } from "./group-by.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { ImpactDemand } from "./impact-demand.js";

/** Test pieces that belong together, of one quantity: singles, and the mean that the paper prints. */
export interface ImpactSet {
  readonly singles: readonly NumberedReading[];
  readonly statedAverage?: NumberedReading;
  readonly retest: boolean;
  /** Absent: full size, or not stated where `widthStated` is false. */
  readonly subsizeWidth?: Measure;
  readonly widthStated: boolean;
  /** Set where the pieces are wider than any standard one. */
  readonly oversizeWidth?: Measure;
}

export interface ImpactSets {
  /** Sets that answer the demand. */
  readonly sets: readonly ImpactSet[];
  /** Why sets of the zone do not: "tested at -101 °C, warmer than -196 °C". */
  readonly refused: readonly { readonly because: string; readonly readings: readonly NumberedReading[] }[];
}

/** Energy per area becomes energy where the width is known. */
const ANSWERING: Readonly<Record<"KV" | "LE", readonly Quantity[]>> = { KV: ["KV", "KCV"], LE: ["LE"] };

/** Finds the sets of a demand's zone, and sorts out those that were tested otherwise than demanded. */
export function impactSets(demand: ImpactDemand, evidence: HeatEvidence, quantity: "KV" | "LE"): ImpactSets {
  const quantities = ANSWERING[quantity];
  const inZone = select(
    evidence.readings,
    (reading) => quantities.includes(reading.quantity) && zoneMatches(demand.zone, reading.zone),
  );
  const sets: ImpactSet[] = [];
  const refused: { because: string; readings: readonly NumberedReading[] }[] = [];
  for (const readings of groupBySet(inZone)) {
    const because = refusal(demand, readings[0]!);
    if (because === undefined) sets.push(toSet(readings));
    else refused.push({ because, readings });
  }
  return { sets, refused };
}

function groupBySet(readings: readonly NumberedReading[]): readonly (readonly NumberedReading[])[] {
  const [first] = readings;
  // Mostly there is one set, and its pieces share what the document says of them once.
  if (first === undefined || readings.every((reading) => isPrintedAlike(first, reading)))
    return first ? [readings] : [];
  return groupBy(readings, (reading) =>
    [
      reading.evidence.document,
      reading.test ?? "",
      reading.quantity,
      reading.temperature === undefined ? "" : formatMeasure(reading.temperature),
      reading.orientation ?? "",
      reading.specimenWidth === undefined ? "" : formatMeasure(reading.specimenWidth),
      reading.striker ?? "",
      reading.retest === true,
    ].join("|"),
  );
}

function isPrintedAlike(left: NumberedReading, right: NumberedReading): boolean {
  return (
    left.evidence.document === right.evidence.document &&
    left.test === right.test &&
    left.quantity === right.quantity &&
    left.temperature === right.temperature &&
    left.orientation === right.orientation &&
    left.specimenWidth === right.specimenWidth &&
    left.striker === right.striker &&
    left.retest === right.retest
  );
}

/** Colder is the harder test and serves, unless it has a minimum of its own; warmer does not. All readings of a set share these facts. */
function refusal(demand: ImpactDemand, reading: NumberedReading): string | undefined {
  if (!reading.temperature) return "the test temperature is not stated";
  const tested = atPlacesOf(demand.temperature, reading.temperature);
  const temperature = tested && compareTestTemperature(demand.temperature, tested);
  if (temperature === undefined) return "the test temperature has no unit that can be compared";
  if (temperature === "warmer") {
    return `tested at ${formatMeasure(reading.temperature)}, warmer than the required ${formatMeasure(demand.temperature)}`;
  }
  if (temperature === "colder" && demand.onlyAtTemperature) {
    return `tested at ${formatMeasure(reading.temperature)}, for which the standard has another row`;
  }
  if (demand.orientation !== undefined && reading.orientation !== demand.orientation) {
    return `${reading.orientation ?? "direction not stated"}, required is ${demand.orientation}`;
  }
  const striker = compareStriker(demand.striker, reading.striker);
  if (striker !== "as required") {
    return striker === "differs"
      ? `${reading.striker} mm striker, required is ${demand.striker} mm`
      : `the striker radius is not stated, required is ${demand.striker} mm`;
  }
  return undefined;
}

/**
 * Codes print -196 °C for -320 °F, which is -195.6 exactly: the tested temperature is held in the unit and to the place of the
 * required one.
 */
function atPlacesOf(required: Measure, tested: Measure): Measure | undefined {
  const value = measureIn(tested, required.unit);
  return value && { value: roundHalfEven(value, required.value.places), unit: required.unit };
}

const FULL_SIZE_MM = decimal("10");

function toSet(readings: readonly NumberedReading[]): ImpactSet {
  const width = readings[0]!.specimenWidth;
  const widthMm = width && measureIn(width, "mm");
  const size = widthMm === undefined ? 0 : compare(widthMm, FULL_SIZE_MM);
  const statedAverage = readings.find((reading) => reading.statistic === "average");
  const set = {
    singles: readings.filter((reading) => reading.statistic !== "average"),
    retest: readings[0]!.retest === true,
    widthStated: width !== undefined,
  };
  if (statedAverage === undefined && size === 0) return set;
  return {
    ...set,
    ...(statedAverage && { statedAverage }),
    ...(size < 0 && { subsizeWidth: width! }),
    ...(size > 0 && { oversizeWidth: width! }),
  };
}

/**
 * A piece's value in the demand's unit. Energy per area becomes energy by the section under the notch, width × 8 mm
 * (0.8 cm2 at full size), which needs the width; undefined without it or across dimensions.
 */
export function valueIn(reading: NumberedReading, unit: Unit): Decimal | undefined {
  if (reading.quantity !== "KCV") return convert(reading.value, reading.unit, unit);
  const widthMm = reading.specimenWidth && measureIn(reading.specimenWidth, "mm");
  const perArea = convert(reading.value, reading.unit, "J/cm2");
  if (!widthMm || !perArea) return undefined;
  const joules = shift(multiply(multiply(perArea, widthMm), decimal("8")), -2);
  return convert(joules, "J", unit);
}
