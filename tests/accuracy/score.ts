import { type Certificate, CONFIDENCE_THRESHOLD, type Reading } from "../../core/certificate/certificate.js";
import type { Doubt } from "../../core/certificate/evidence.js";
import { normaliseHeatNumber } from "../../core/certificate/heat-number.js";
import { compare, decimal, formatDecimal } from "../../core/quantity/decimal.js";
import { formatMeasure } from "../../core/quantity/measure.js";
import { kindOf } from "../../core/quantity/quantity.js";
import { type Paper, type Truth, truthsOf } from "./paper.js";
import type { Rendered, Spot } from "./render/rendered.js";
import { speaksOf, spotAt } from "./spots.js";

export interface Score {
  readonly expected: number;
  /** Read for sure, with everything that the paper says of them. */
  readonly right: number;
  /** Read below the threshold, or not read with a doubt that points at them. */
  readonly doubted: number;
  /** Not read, and nothing says so where they stand. */
  readonly missed: number;
  /** Read for sure and wrong: value, unit, heat, place, set, or nothing of the kind stands there. */
  readonly silentlyWrong: readonly string[];
}

export const NOTHING: Score = { expected: 0, right: 0, doubted: 0, missed: 0, silentlyWrong: [] };

export function addScores(left: Score, right: Score): Score {
  return {
    expected: left.expected + right.expected,
    right: left.right + right.right,
    doubted: left.doubted + right.doubted,
    missed: left.missed + right.missed,
    silentlyWrong: [...left.silentlyWrong, ...right.silentlyWrong],
  };
}

interface Found {
  readonly reading: Reading;
  /** Its heat, as read or confirmed. */
  readonly heat: string;
  /** Nothing that its heat's name or its own confidence holds back. */
  readonly isSure: boolean;
  readonly spot: Spot | undefined;
}

/** Holds every reading against what stands at its place on the paper; of a paper that reserves itself nothing is sure. */
export function scoreCertificate(certificate: Certificate, paper: Paper, rendered: Rendered): Score {
  const isReserved = (certificate.reservations ?? []).length > 0;
  const isHeldBack = isReserved && !paper.isReserved;
  const found = certificate.heats.flatMap(({ heat, readings }) =>
    readings.map((reading): Found => {
      const isSure = !isHeldBack && Math.min(reading.confidence, heat.confidence) >= CONFIDENCE_THRESHOLD;
      return { reading, heat: heat.value, isSure, spot: spotAt(rendered, reading.evidence) };
    }),
  );
  const tornSets = findTornSets(found);
  const open = new Set(found);
  const counts = { right: 0, doubted: 0, missed: 0 };
  const silentlyWrong: string[] = paper.isReserved && !isReserved ? ["the paper's own reservation (not seen)"] : [];
  for (const { cell, truth } of truthsOf(paper)) {
    const here = [...open].filter(({ spot }) => spot?.cell === cell);
    const match = here.find((one) => differences(one, truth).length === 0) ?? here[0];
    if (!match) {
      const spot = rendered.spots.find((candidate) => candidate.cell === cell);
      const isSeen = isDoubted(certificate.doubts, truth, spot, rendered);
      if (isSeen && truth.isDoubtful) counts.right += 1;
      else counts[isSeen ? "doubted" : "missed"] += 1;
      continue;
    }
    open.delete(match);
    const wrong = [...differences(match, truth), ...(tornSets.has(truth.set ?? "") ? ["set"] : [])];
    if (truth.isDoubtful) {
      if (match.isSure) silentlyWrong.push(`${tellFound(match)} (the paper itself doubts it)`);
      else counts.right += 1;
    } else if (!match.isSure) counts.doubted += 1;
    else if (wrong.length === 0) counts.right += 1;
    else silentlyWrong.push(`${tellFound(match)} (wrong in ${wrong.join(", ")})`);
  }
  for (const one of open) if (one.isSure) silentlyWrong.push(`${tellFound(one)} (no result stands there)`);
  return { expected: truthsOf(paper).length, ...counts, silentlyWrong };
}

function differences({ reading, heat }: Found, truth: Truth): string[] {
  const { quantity, unit, value, bound, analysis, zone, temperature, orientation, specimenWidth } = reading;
  const same: Readonly<Record<string, boolean>> = {
    heat: normaliseHeatNumber(truth.heat) === normaliseHeatNumber(heat),
    quantity: truth.quantity === quantity,
    unit: truth.unit === unit,
    value: compare(decimal(truth.value), value) === 0,
    bound: truth.bound === bound,
    analysis: truth.analysis === analysis,
    zone: truth.zone === zone,
    temperature: truth.temperature === (temperature && formatMeasure(temperature)),
    direction: truth.orientation === orientation,
    size: truth.specimenWidth === (specimenWidth && formatMeasure(specimenWidth)),
    striker: truth.striker === reading.striker,
    statistic: (truth.average ?? false) === (reading.statistic === "average"),
    retest: (truth.retest ?? false) === (reading.retest ?? false),
  };
  return Object.keys(same).filter((name) => !same[name]);
}

/** A doubt that names the value's heat and quantity, or stands where it stands. */
function isDoubted(doubts: readonly Doubt[], truth: Truth, spot: Spot | undefined, rendered: Rendered): boolean {
  return doubts.some(({ heat, quantity, evidence }) => {
    const isOfHeat = heat !== undefined && normaliseHeatNumber(heat) === normaliseHeatNumber(truth.heat);
    if (isOfHeat && quantity === truth.quantity) return true;
    if (quantity !== undefined && quantity !== truth.quantity) return false;
    return evidence !== undefined && spot !== undefined && speaksOf(rendered, evidence, spot);
  });
}

/** Names of sets whose results do not share one group, or share it with another set's. */
function findTornSets(found: readonly Found[]): Set<string> {
  const groupsOf = new Map<string, Set<string>>();
  const setsOf = new Map<string, Set<string>>();
  for (const { reading, heat, isSure, spot } of found) {
    const truth = spot?.cell.truths.find(
      ({ quantity, value }) => quantity === reading.quantity && value === formatDecimal(reading.value),
    );
    if (!isSure || truth?.set === undefined) continue;
    const group = groupOf(reading, heat);
    groupsOf.set(
      `${truth.set}|${reading.quantity}`,
      (groupsOf.get(`${truth.set}|${reading.quantity}`) ?? new Set()).add(group),
    );
    setsOf.set(group, (setsOf.get(group) ?? new Set()).add(truth.set));
  }
  const torn = [...groupsOf].filter(([, groups]) => groups.size > 1).map(([name]) => name.split("|")[0]!);
  const mixed = [...setsOf.values()].filter((sets) => sets.size > 1).flatMap((sets) => [...sets]);
  return new Set([...torn, ...mixed]);
}

/** What the judge groups by: impact sets by everything that makes them comparable, tensile pieces by their test. */
function groupOf(reading: Reading, heat: string): string {
  const test = `${heat}|${reading.test ?? ""}`;
  if (kindOf(reading.quantity) !== "impact") return test;
  const { quantity, zone, temperature, orientation, specimenWidth, retest } = reading;
  return JSON.stringify([
    test,
    quantity,
    zone,
    temperature && formatMeasure(temperature),
    orientation,
    specimenWidth && formatMeasure(specimenWidth),
    retest,
  ]);
}

function tellFound({ reading, heat }: Found): string {
  const { quantity, printed, unit, zone, analysis, orientation } = reading;
  return [`${heat}:`, quantity, JSON.stringify(printed), unit, zone, analysis, orientation].filter(Boolean).join(" ");
}
