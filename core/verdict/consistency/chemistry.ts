import type { NumberedReading } from "../../certificate/certificate.js";
import { add, compare, decimal, formatDecimal } from "../../quantity/decimal.js";
import { isElement } from "../../quantity/quantity.js";
import { joined } from "../collect.js";
import { groupBy } from "../group-by.js";
import { analysisOf } from "../heat-evidence.js";
import type { Judgement } from "../judgement.js";
import { castAnalysis, isSameValue, percent, percentText } from "./cast-analysis.js";
import { contradiction } from "./contradiction.js";

export function chemistryContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  const chemistry = readings.filter((reading) => isElement(reading.quantity) && (reading.zone ?? "base") === "base");
  return joined([twoChemistries(chemistry), aboveAll(chemistry)]);
}

/** One melt has one heat analysis. */
function twoChemistries(chemistry: readonly NumberedReading[]): Judgement[] {
  const heat = castAnalysis(chemistry);
  if (new Set(heat.map(({ quantity }) => quantity)).size === heat.length) return [];
  const differing = heat.flatMap((reading, index) => {
    const other = heat.find((later, at) => at > index && later.quantity === reading.quantity && !agree(reading, later));
    return other ? [[reading, other] as const] : [];
  });
  const [first] = differing;
  if (first === undefined) return [];
  const pairs = differing.map(([left, right]) => `${left.quantity} ${percentText(left)} and ${percentText(right)}`);
  return [
    contradiction(`the heat has two analyses: ${pairs.join(", ")}`, differing.flat(), "one melt has one heat analysis"),
  ];
}

function agree(left: NumberedReading, right: NumberedReading): boolean {
  const [a, b] = [percent(left), percent(right)];
  return !a || !b || isSameValue(a, b);
}

const ALL = decimal("100");

function aboveAll(chemistry: readonly NumberedReading[]): Judgement[] {
  if (isWithinAll(chemistry)) return [];
  const keyOf = (reading: NumberedReading) =>
    `${reading.evidence.document}|${analysisOf(reading)}|${reading.test ?? ""}`;
  return groupBy(chemistry, keyOf).flatMap((analysis) => {
    const exact = leastOfEach(analysis.filter(({ bound }) => bound === undefined));
    const sum = exact
      .map(percent)
      .filter((value) => value !== undefined)
      .reduce(add, decimal("0"));
    return compare(sum, ALL) > 0
      ? [contradiction(`the elements add up to ${formatDecimal(sum)} %`, exact, "arithmetic")]
      : [];
  });
}

/** Whether everything that is read comes to no more than the whole: then no single analysis exceeds it, and none need be told apart. */
function isWithinAll(chemistry: readonly NumberedReading[]): boolean {
  let sum = decimal("0");
  for (const reading of chemistry) {
    const value = percent(reading);
    // What lies below zero would hide what lies above.
    if (value === undefined || value.digits < 0n) return false;
    sum = add(sum, value);
  }
  return compare(sum, ALL) <= 0;
}

/** An element that is printed twice counts once, with its lower value: only what surely exceeds the whole is said. */
function leastOfEach(analysis: readonly NumberedReading[]): NumberedReading[] {
  const least = new Map<string, NumberedReading>();
  for (const reading of analysis) {
    const other = least.get(reading.quantity);
    if (!other || compare(percent(reading) ?? reading.value, percent(other) ?? other.value) < 0)
      least.set(reading.quantity, reading);
  }
  return [...least.values()];
}
