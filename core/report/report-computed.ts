import type { NumberedReading } from "../certificate/certificate.js";
import type { Chemistry } from "../metallurgy/chemistry.js";
import { describeHint } from "../metallurgy/describe-hint.js";
import type { Formula, FormulaValue } from "../metallurgy/formula.js";
import { formula } from "../metallurgy/formulas.js";
import { weldabilityHints } from "../metallurgy/weldability.js";
import { compare, type Decimal, decimal, formatDecimal } from "../quantity/decimal.js";
import { measureIn } from "../quantity/measure.js";
import { roundHalfEven } from "../quantity/round.js";
import { parseMeasure } from "../requirement/parse-measure.js";
import type { Requirement } from "../requirement/requirement.js";
import { chemistryOf } from "../verdict/chemistry-of.js";
import type { ReportComputed, ReportHint } from "./report.js";

/** Indices that an engineer looks at, by kind of steel; stainless begins at 10.5 % chromium (EN 10088-1). */
const STAINLESS = ["PREN (16 N)", "FN (WRC-1992)", "Md30 (Angel)", "Md30 (Nohara, G 8)", "Mn/S"];
const OTHER_STEEL = ["CE (IIW)", "Pcm", "CET", "Mn/S"];
const STAINLESS_CHROMIUM = decimal("10.5");

/** Computed from the heat analysis, for information: no outcome rests on it unless a limit asks for it. */
export function reportComputed(readings: readonly NumberedReading[]): readonly ReportComputed[] {
  const { contents } = chemistryOf(readings);
  return (isStainless(contents) ? STAINLESS : OTHER_STEEL).flatMap((name) => {
    const known = formula(name);
    const result = known?.compute(contents);
    return known && result?.kind === "value" ? [describe(known, result)] : [];
  });
}

/** Remarks on welding and service that rest on the heat analysis; the service temperature is the coldest that the requirement tests at. */
export function reportHints(
  readings: readonly NumberedReading[],
  requirement: Requirement | null,
): readonly ReportHint[] {
  const temperatures = (requirement?.impact ?? []).flatMap(({ temperature }) => {
    const measure = parseMeasure(temperature, "temperature");
    const celsius = measure && measureIn(measure, "°C");
    return celsius ? [celsius] : [];
  });
  const coldest =
    temperatures.length === 0
      ? undefined
      : temperatures.reduce((left, right) => (compare(right, left) < 0 ? right : left));
  return weldabilityHints(chemistryOf(readings).contents, coldest).map(describeHint);
}

function isStainless(contents: Chemistry): boolean {
  const chromium = contents.get("Cr");
  return chromium !== undefined && compare(chromium.value, STAINLESS_CHROMIUM) >= 0;
}

function describe(known: Formula, result: FormulaValue): ReportComputed {
  const print = (value: Decimal) => formatDecimal(roundHalfEven(value, known.reportPlaces));
  const isSpread = result.low === undefined || result.high === undefined || compare(result.low, result.high) !== 0;
  return {
    name: known.name,
    value: print(result.value),
    unit: known.unit,
    ...(isSpread && { low: result.low ? print(result.low) : null, high: result.high ? print(result.high) : null }),
    expression: known.expression,
    source: known.source,
    ...(result.notReported.length > 0 && { notReported: result.notReported }),
    ...(result.cautions.length > 0 && { cautions: result.cautions }),
  };
}
