import type { NumberedReading } from "../certificate/certificate.js";
import type { Conditions } from "../grades/grade.js";
import { compare, decimal } from "../quantity/decimal.js";
import { intervalOf } from "../quantity/interval.js";
import { formatMeasure, measureIn } from "../quantity/measure.js";
import { ELONGATIONS, HARDNESSES, kindOf, type Quantity } from "../quantity/quantity.js";
import { convert, isSameSize, type Unit } from "../quantity/unit.js";
import { type AppliedLimit, printedLimit } from "./applied-limit.js";
import { collect, select } from "./collect.js";
import type { Candidate } from "./conclude.js";
import { isTestOfZone, orientationMatches } from "./conditions.js";
import type { UndeterminedReason } from "./finding.js";
import type { HeatEvidence } from "./heat-evidence.js";
import type { Note, Saying } from "./judgement.js";

/** Readings that a mechanical limit is held against, or why none can be. */
export type MechanicalCandidates =
  | { readonly kind: "candidates"; readonly candidates: readonly Candidate[] }
  | {
      readonly kind: "none";
      readonly reason: UndeterminedReason;
      readonly says: Saying;
      readonly readings: readonly NumberedReading[];
    };

/** Strengths, elongations, hardness, reduction of area: tests at room temperature, in the zone and direction of the limit. */
export function mechanicalCandidates(applied: AppliedLimit, evidence: HeatEvidence): MechanicalCandidates {
  const { limit } = applied;
  const isAsLimited = (reading: NumberedReading) =>
    isAtRoomTemperature(reading) &&
    isTestOfZone(limit.quantity, limit.when?.zone, reading.zone) &&
    orientationMatches(limit.when?.orientation, reading.orientation) !== "no";
  const direct = select(evidence.readings, (reading) => reading.quantity === limit.quantity && isAsLimited(reading));
  if (direct.length > 0) return inUnitOfLimit(applied, direct, NO_NOTES);

  const unstatedKind = unstatedKindOf(limit.quantity);
  const unstated = select(evidence.readings, (reading) => reading.quantity === unstatedKind && isAsLimited(reading));
  const [first] = unstated;
  if (first === undefined) {
    const kin = kinOf(limit.quantity);
    const others = evidence.readings.filter((reading) => kin.includes(reading.quantity) && isAsLimited(reading));
    return elsewhere(applied, evidence) ?? nothingFor(limit.quantity, others);
  }
  // A certificate that claims only standards of the limit's own family uses that family's word for it.
  if (!isImplied(applied, evidence)) {
    const says: Saying =
      kindOf(limit.quantity) === "elongation"
        ? { code: "gauge-unknown", wanted: limit.quantity }
        : { code: "kind-unknown", stated: first.quantity };
    const reason = kindOf(limit.quantity) === "elongation" ? "gauge-length-unknown" : "kind-unknown";
    return { kind: "none", reason, says, readings: unstated };
  }
  return inUnitOfLimit(applied, unstated, [
    { code: "implied-kind", stated: first.quantity, taken: limit.quantity, standard: applied.source.standard },
  ]);
}

const ROOM_C = { low: decimal("10"), high: decimal("35") };

/** Room temperature 10 to 35 °C, ISO 6892-1 clause 5; a test without a temperature is one at room temperature. */
function isAtRoomTemperature(reading: NumberedReading): boolean {
  const celsius = reading.temperature && measureIn(reading.temperature, "°C");
  return !celsius || (compare(ROOM_C.low, celsius) <= 0 && compare(celsius, ROOM_C.high) <= 0);
}

const INCH_POUND_UNITS: readonly Unit[] = ["ksi", "psi", "ft.lbf", "in", "mil", "lbf", "kip"];

/**
 * The unit of the limit decides. ASTM states SI and inch-pound values that are each standard by itself, so a value in ksi is held
 * to the ksi bound where there is one; otherwise the value is converted, never the bound.
 */
function inUnitOfLimit(
  applied: AppliedLimit,
  readings: readonly NumberedReading[],
  notes: readonly Note[],
): MechanicalCandidates {
  const candidates = collect(readings, (reading) => inUnit(applied, reading, notes));
  if (candidates.length === readings.length) return { kind: "candidates", candidates };
  const strange = readings.find((reading) => inUnit(applied, reading, notes) === undefined)!;
  const says: Saying = { code: "unit-unknown", stated: strange.unit };
  return { kind: "none", reason: "unit-unknown", says, readings: [strange] };
}

/** undefined where the reading's unit is none of the limit's dimension. */
function inUnit(applied: AppliedLimit, reading: NumberedReading, given: readonly Note[]): Candidate | undefined {
  const printed = printedLimit(applied, isInchPound(reading.unit) ? "inch-pound" : "si");
  const { unit } = printed;
  const value = convert(reading.value, reading.unit, unit);
  if (value === undefined) return undefined;
  const ofUnit = unitNote(reading.unit, unit);
  const ofZone = zoneNote(applied, reading);
  const candidate: Candidate = {
    readings: [reading],
    value: intervalOf(value, reading.bound),
    limit: printed,
    notes: ofUnit.length + ofZone.length === 0 ? given : [...given, ...ofUnit, ...ofZone],
  };
  const isOtherSystem = isInchPound(reading.unit) !== isInchPound(unit) && mayPrintBoth(applied);
  return isOtherSystem ? { ...candidate, otherSystem: reading.unit } : candidate;
}

const NO_NOTES: readonly Note[] = [];

function zoneNote({ limit }: AppliedLimit, reading: NumberedReading): readonly Note[] {
  const isTaken = limit.when?.zone === "weld" && reading.zone === undefined;
  return isTaken ? [{ code: "zone-not-stated", taken: "weld" }] : NO_NOTES;
}

/** American standards print a bound in each system, though sources of one may be all that is held; a project means its own unit. */
function mayPrintBoth({ holder, source }: AppliedLimit): boolean {
  return holder !== undefined && familyOf(source.standard) === "American";
}

function isInchPound(unit: Unit): boolean {
  return INCH_POUND_UNITS.includes(unit);
}

function unitNote(stated: Unit, held: Unit): readonly Note[] {
  if (isInchPound(held) && isInchPound(stated)) return [{ code: "inch-pound" }];
  return isSameSize(stated, held) ? NO_NOTES : [{ code: "converted", from: stated }];
}

function unstatedKindOf(quantity: Quantity): Quantity | undefined {
  if (quantity === "Rp0.2" || quantity === "ReH") return "Yield";
  if (kindOf(quantity) === "elongation") return "Elongation";
  return undefined;
}

function isImplied(applied: AppliedLimit, evidence: HeatEvidence): boolean {
  const family = familyOf(applied.source.standard);
  return (
    applied.holder !== undefined &&
    evidence.claimedStandards.length > 0 &&
    evidence.claimedStandards.every((standard) => familyOf(standard) === family)
  );
}

/** ASME SA and SB specifications are those of ASTM, with their terms. */
function familyOf(standard: string): string {
  return /^(ASTM|ASME|AWS|API|SFA|S?[AB][ -]?\d)/i.test(standard.trim()) ? "American" : "European";
}

/** The quantity was tested, but not where, how cold or in which direction the limit asks for. */
function elsewhere({ limit }: AppliedLimit, { readings }: HeatEvidence): MechanicalCandidates | undefined {
  const others = readings.filter(({ quantity }) => quantity === limit.quantity);
  if (others.length === 0) return undefined;
  const where = [...new Set(others.map((reading) => whereTested(limit.when, reading)))].join("; ");
  return { kind: "none", reason: "not-reported", says: { code: "only-elsewhere", where }, readings: others };
}

function whereTested(when: Conditions | undefined, reading: NumberedReading): string {
  const { temperature, orientation, zone, quantity } = reading;
  if (temperature && !isAtRoomTemperature(reading)) return `tested at ${formatMeasure(temperature)}`;
  if (!isTestOfZone(quantity, when?.zone, zone))
    return `tested in zone ${zone ?? "base"}, required is ${when?.zone ?? "base"}`;
  return `${orientation ?? "direction not stated"}, required is ${when?.orientation}`;
}

/** `other`: tests of the quantity's kin, made as the limit asks. */
function nothingFor(quantity: Quantity, other: readonly NumberedReading[]): MechanicalCandidates {
  const [first] = other;
  if (first === undefined)
    return { kind: "none", reason: "not-reported", says: { code: "not-reported" }, readings: [] };
  const facts = { reported: first.quantity, wanted: quantity };
  if (kindOf(quantity) === "elongation") {
    return { kind: "none", reason: "gauge-length-unknown", says: { code: "gauge-differs", ...facts }, readings: other };
  }
  return { kind: "none", reason: "not-comparable", says: { code: "scale-differs", ...facts }, readings: other };
}

/** Quantities that measure the like but are never converted silently. */
function kinOf(quantity: Quantity): readonly Quantity[] {
  if (kindOf(quantity) === "elongation") return ELONGATIONS;
  if (kindOf(quantity) === "hardness") return HARDNESSES;
  if (quantity === "Rp0.2" || quantity === "Rp1.0") return ["Rp0.2", "Rp1.0", "Rt0.5", "ReH", "ReL"];
  if (quantity === "ReH") return ["ReL", "Rp0.2", "Rt0.5"];
  return [];
}
