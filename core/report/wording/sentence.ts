import type { NumberedReading } from "../../certificate/certificate.js";
import { absolute, compare, type Decimal, formatDecimal } from "../../quantity/decimal.js";
import { formatMeasure, type Measure } from "../../quantity/measure.js";
import type { Unit } from "../../quantity/unit.js";
import type { Judgement } from "../../verdict/judgement.js";
import { nameOf } from "./names.js";
import { shownDistance, shownValue } from "./shown-value.js";

/** The one plain sentence of a finding. All wording of outcomes stands here. */
export function sentenceOf(judgement: Judgement): string {
  const { says } = judgement;
  switch (says.code) {
    case "compared":
      return compared(judgement);
    case "reported":
      return `${subject(judgement)} is reported, as required.`;
    case "not-reported":
      return `${nameOf(judgement.quantity)}${says.what ? ` (${says.what})` : ""} is not reported${wanted(judgement)}.`;
    case "bound-not-decisive":
      return `${nameOf(judgement.quantity)} is given only as ${quoted(says.bound)}, which does not decide${against(judgement)}.`;
    case "other-unit-system":
      return `${subject(judgement)}${judgedText(judgement)} is too near${against(judgement, "")} to decide by conversion: ${judgement.source.standard} may print a value in ${says.stated} of its own, which is not held here.`;
    case "retest-open":
      return `${subject(judgement)} does not meet${against(judgement, "")}, and the retest does: whether ${judgement.source.standard} allows it is for a person to decide.`;
    case "only-retest":
      return `${subject(judgement)} is the result of a retest; the test that it repeats is not reported.`;
    case "bound-depends":
      return `${subject(judgement)} cannot be decided${against(judgement)}: the limit depends on ${list(says.on)}, of which too little is known.`;
    case "uncertain":
      return `${nameOf(judgement.quantity)} ${rangeText(says)}, which does not decide${against(judgement)}${unreported(says.notReported)}.`;
    case "low-confidence":
      return `${subject(judgement)} was not read with certainty (confidence ${says.confidence.toFixed(2)}); confirm it on the document.`;
    case "doubted":
      return `${nameOf(judgement.quantity)} could not all be read: ${uncapitalised(says.doubt)}`;
    case "unit-unknown":
      return `${subject(judgement)} is in ${says.stated}, which cannot be held${against(judgement)}.`;
    case "unverified":
      return `${subject(judgement)} is ${says.side}${against(judgement, "")}, a limit that is not verified; confirm the limit before deciding.`;
    case "tolerance-unverified":
      return `${subject(judgement)} in product analysis is ${says.side}${printedBound(judgement, says)}; ${toleranceText(says.tolerance)}.`;
    case "brackets-disagree":
      return `${subject(judgement)} cannot be decided${against(judgement)}: the ${list(says.unknown)} of the product ${says.unknown.length > 1 ? "are" : "is"} not known, and the brackets of the standard do not agree.`;
    case "kind-unknown":
      return `${subject(judgement)} is a ${says.stated === "Yield" ? "yield strength" : "value"} whose kind is not stated, so it cannot be held${against(judgement)}.`;
    case "gauge-unknown":
      return `${nameOf("Elongation")} ${values(judgement)} cannot be held${against(judgement)}: it may be on another gauge length than ${says.wanted}.`;
    case "gauge-differs":
      return `Elongation is reported as ${says.reported} and required as ${says.wanted}: different gauge lengths are not comparable.`;
    case "scale-differs":
      return `${nameOf(says.reported)} is reported and ${says.wanted} is required: they are not converted silently.`;
    case "only-elsewhere":
      return `${nameOf(judgement.quantity)}: no test answers${limitText(judgement)} (${says.where}).`;
    case "alternative-reported":
      return `${nameOf(judgement.quantity)} is not needed: ${says.instead} is reported instead.`;
    case "only-if-ordered":
      return `${nameOf(judgement.quantity)} is not reported; ${judgement.source.standard} asks for it only where it is ordered.`;
    case "strange-condition": {
      const chosen = says.taken === undefined ? "no limit was chosen by it" : `limits were chosen for ${says.taken}`;
      return `Delivery condition ${list(says.words.map(quoted))} is in words that are not known here: ${chosen}.`;
    }
    case "form-not-covered":
      return `${judgement.source.standard} ${says.holder} is for ${list(says.covered)}; the product is ${says.form}.`;
    case "not-for-this-product":
      return `${holder(judgement)} has no ${judgement.quantity} limit for ${says.because}.`;
    case "operand-missing":
      return `${nameOf(says.of)} cannot be decided${unreported(says.missing).replace(";", ":")}.`;
    case "outside-range":
      return `${nameOf(says.of)} cannot be computed: ${says.because}.`;
    case "straddles":
      return `Product analyses of ${nameOf(judgement.quantity).toLowerCase()} lie both above and below the range, which the tolerance does not allow.`;
    case "document-types-differ":
      return `Documents with results of this heat state the EN 10204 types ${list(says.stated)}; ${says.wanted} is required of each.`;
    case "document-type":
      return says.stated === undefined
        ? `No document states its EN 10204 type; ${says.wanted} is required.`
        : `Inspection document type ${says.stated} (EN 10204); ${says.wanted} is required.`;
    case "grade-unknown":
      return `${quoted(says.text)} is no grade of the library${says.near.length > 0 ? `; near: ${says.near.join(", ")}` : ""}.`;
    case "grade-ambiguous":
      return `${quoted(says.text)} can mean ${says.candidates.length} entries of the library: ${says.candidates.join("; ")}. Name the standard and edition.`;
    case "grade-not-claimed":
      if (says.claimed.length === 0) {
        return `No document says which grade the metal is certified as; ${says.wanted} is required. Limits may be met, certification is for the manufacturer.`;
      }
      return `No document certifies the metal as ${says.wanted}; claimed is ${says.claimed.join(", ")}. Limits may be met, certification is for the manufacturer.`;
    case "nothing-judged":
      return "Nothing could be judged: neither the requirement nor the certificate names a grade or limit that is known here.";
    case "impact-set":
      return `${subject(judgement)} cannot be accepted: ${says.fault}.`;
    case "passed-on-retest":
      return `${subject(judgement)} did not meet${against(judgement, "")} in the first set; the retest passes: ${says.because}.`;
    case "contradiction":
      return `Contradiction: ${says.what}.`;
  }
}

function compared(judgement: Judgement): string {
  const { limit, margin, unit, outcome, says } = judgement;
  if (!limit || !margin) return `${subject(judgement)}.`;
  const orMore = says.code === "compared" && says.known ? " or more" : "";
  const distance = `${shownDistance(absolute(margin), limit)}${unitText(unit!)}${orMore}`;
  const judgedAs = judgedText(judgement);
  if (outcome === "fail") {
    const side = belowMinimum(judgement) ? "below" : "above";
    return `${subject(judgement)}${judgedAs} is ${side}${against(judgement, "")}, by ${distance}.`;
  }
  const spare = margin.digits === 0n && orMore === "" ? "exactly on it" : `${distance} to spare`;
  const verb = limit.max === undefined ? "meets" : "is within";
  return `${subject(judgement)}${judgedAs} ${verb}${against(judgement, "")}, ${spare}.`;
}

function belowMinimum({ limit, judged }: Judgement): boolean {
  return limit?.min !== undefined && judged !== undefined && compare(judged, limit.min) < 0;
}

/** "Carbon 0.034 %": the worst reading is the first. Averages have no reading of their own. */
function subject(judgement: Judgement): string {
  const name = nameOf(judgement.quantity);
  const isComputed = isComputedValue(judgement);
  const known = judgement.says.code === "compared" && judgement.says.known ? ` of ${judgement.says.known}` : "";
  const first = judgement.readings[0];
  if (isComputed || first === undefined) {
    const value =
      judgement.judged && judgement.unit
        ? `${known} ${shownValue(judgement.judged, judgement.limit)}${unitText(judgement.unit)}`
        : "";
    return `${name}${value}${whereTested(judgement)}`;
  }
  if (isLowestPiece(judgement)) {
    const value = judgement.judged ? formatMeasure(lowestPiece(judgement)) : first.printed;
    return `${name} ${value}${whereTested(judgement)}`;
  }
  return `${name} ${boundText(first)}${formatMeasure(first)}`;
}

const ZONES = { base: "base metal", weld: "the weld", haz: "the heat-affected zone" } as const;

/** " in the heat-affected zone at -196 °C": impact values mean nothing without it. */
function whereTested({ zone, readings }: Judgement): string {
  const temperature = zone && readings[0]?.temperature;
  return `${zone ? ` in ${ZONES[zone]}` : ""}${temperature ? ` at ${formatMeasure(temperature)}` : ""}`;
}

/** Sums, averages and indices have operands for readings, not a reading of their own. */
function isComputedValue({ quantity, readings }: Judgement): boolean {
  return (
    quantity === "KV average" || (!quantity.startsWith("KV") && quantity !== "LE" && readings[0]?.quantity !== quantity)
  );
}

function unitText(unit: Unit): string {
  return unit === "1" ? "" : ` ${unit}`;
}

/** "lies between 6.12 and 10.12", "is 19.2 or more": one end is always known. */
function rangeText({ low, high }: { readonly low?: Decimal; readonly high?: Decimal }): string {
  if (!high) return `is ${shownValue(low!)} or more`;
  return low ? `lies between ${shownValue(low)} and ${shownValue(high)}` : `is ${shownValue(high)} or less`;
}

function boundText(reading: NumberedReading): string {
  return reading.bound === undefined ? "" : reading.bound;
}

/** Of a set of test pieces the lowest is judged, and shown as it was printed. */
function isLowestPiece({ quantity }: Judgement): boolean {
  return quantity === "KV single" || quantity === "LE";
}

/** The pieces of a retest stand beside those of the set that is judged. */
function lowestPiece({ readings, judged, unit }: Judgement): Measure {
  const firstSet = readings.filter(({ retest }) => retest !== true);
  const pieces = firstSet.length > 0 ? firstSet : readings;
  const isOneUnit = new Set(pieces.map((piece) => `${piece.quantity} ${piece.unit}`)).size === 1;
  if (!isOneUnit) return { value: judged!, unit: unit! };
  return pieces.reduce((left, right) => (compare(right.value, left.value) < 0 ? right : left));
}

/** Shown only where rounding or conversion changed what is compared. */
function judgedText(judgement: Judgement): string {
  const { judged, readings, unit, quantity } = judgement;
  const [only] = readings;
  if (!judged || !only || quantity === "KV average") return "";
  if (!isLowestPiece(judgement) && only.quantity !== quantity) return "";
  const first = isLowestPiece(judgement) ? lowestPiece(judgement) : only;
  if (first.unit === unit && compare(first.value, judged) === 0) return "";
  return `, judged as ${shownValue(judged, judgement.limit)}${unitText(unit!)},`;
}

function values(judgement: Judgement): string {
  return judgement.readings.map((reading) => formatMeasure(reading)).join(", ");
}

/** " against the 0.030 % maximum of S30403 (304L)". */
function against(judgement: Judgement, before = " against"): string {
  const text = limitText(judgement);
  return text === "" ? "" : `${before}${text}`;
}

function printedBound({ limit, source }: Judgement, { side, printed }: { side: string; printed: Decimal }): string {
  const unit = limit ? unitText(limit.unit) : "";
  return ` the ${formatDecimal(printed)}${unit} ${side === "above" ? "maximum" : "minimum"} of ${limit?.holder ?? source.standard}`;
}

function toleranceText(tolerance: Decimal): string {
  if (tolerance.digits === 0n) return "no product-analysis tolerance is held here that could allow it";
  return `the product-analysis tolerance of ${formatDecimal(tolerance)} % is not verified`;
}

function limitText({ limit, source }: Judgement): string {
  if (!limit) return "";
  const unit: Unit = limit.unit;
  const of = limit.holder ?? source.standard;
  const [min, max] = [limit.min && formatDecimal(limit.min), limit.max && formatDecimal(limit.max)];
  if (min !== undefined && max !== undefined) return ` the range ${min} to ${max}${unitText(unit)} of ${of}`;
  if (max !== undefined) return ` the ${max}${unitText(unit)} maximum of ${of}`;
  return min === undefined ? ` the limit of ${of}` : ` the ${min}${unitText(unit)} minimum of ${of}`;
}

function wanted(judgement: Judgement): string {
  return judgement.limit ? `; required is${limitText(judgement)}` : "";
}

function holder({ limit, source }: Judgement): string {
  return limit?.holder ?? source.standard;
}

/** "; Mo and N are not reported": what would have to be determined to close the range. */
function unreported(elements: readonly string[]): string {
  if (elements.length === 0) return "";
  return `; ${list(elements)} ${elements.length > 1 ? "are" : "is"} not reported`;
}

function quoted(text: string): string {
  return `"${text}"`;
}

function list(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? "") : `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

function uncapitalised(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text[0]!.toLowerCase() + text.slice(1) : text;
}
