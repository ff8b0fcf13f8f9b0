import type { HeatRecord } from "../../certificate/certificate.js";
import type { ReducedCurve } from "../../reduction/reduce-records.js";
import { isRefusal, type TransitionFit } from "../../reduction/transition/fit-transition.js";
import { reduceTransition } from "../../reduction/transition/reduce-transition.js";
import { seriesOfReadings } from "../../reduction/transition/series-of-readings.js";
import { meanAt, transitionTemperature } from "../../reduction/transition/transition-results.js";
import { drawImpactSingles } from "../pictures/impact-singles.js";
import { drawStressStrain } from "../pictures/stress-strain.js";
import { drawTransition } from "../pictures/transition-curve.js";
import type { ImpactReport } from "./reduction-report.js";
import { heatWords } from "./reduction-words.js";

/** The picture of one reduced curve; undefined where the record gave no stress. */
export function pictureOfCurve({ name, record, reduction }: ReducedCurve, id: string): string | undefined {
  const { work, results } = reduction;
  if (!work || work.curve.strain.length < 2) return undefined;
  const value = (quantity: string) => results.find((result) => result.quantity === quantity)?.value;
  const [proof, upper, strength] = [value("Rp0.2"), value("ReH"), value("Rm")];
  const { specimen } = record;
  const who = [specimen.heat && `heat ${specimen.heat.value}`, specimen.id && `piece ${specimen.id.value}`].filter(
    Boolean,
  );
  return drawStressStrain({
    id,
    subject: who.length > 0 ? who.join(", ") : name,
    strain: work.curve.strain,
    stressMPa: work.curve.stressMPa,
    ...(work.line && {
      elastic: { slopeMPa: work.line.slopeMPa, zeroStrain: work.line.zeroStrain, ...work.line.window },
    }),
    ...(proof !== undefined && { proofMPa: proof }),
    ...(upper !== undefined && { upperYieldMPa: upper }),
    ...(strength !== undefined && { strengthMPa: strength }),
  });
}

/** Zones drawn side by side at most: more belong into a transition curve. */
const MOST_SETS = 6;

/** The energies of one heat by zone and temperature; none where it was tested over so many temperatures that a curve says more. */
export function picturesOfImpact({ heat, pieces }: ImpactReport, id: string): string[] {
  const sets = new Map<string, number[]>();
  for (const piece of pieces.filter(({ quantity }) => quantity === "KV")) {
    const name = `${piece.zone}, ${piece.temperature}`;
    sets.set(name, [...(sets.get(name) ?? []), Number(piece.unrounded)]);
  }
  if (sets.size === 0 || sets.size > MOST_SETS) return [];
  const zones = [...sets].map(([name, singlesJ]) => ({
    name,
    singlesJ,
    averageJ: singlesJ.reduce((sum, value) => sum + value, 0) / singlesJ.length,
  }));
  return [drawImpactSingles({ id, subject: heatWords(heat), zones })];
}

/** The transition pictures of one heat, in the order of its zones; zones tested at one temperature have none. */
export function picturesOfTransitions({ heat, readings }: HeatRecord, id: string): string[] {
  return seriesOfReadings(readings).flatMap(({ zone, series }, index) => {
    const points = series.energyJ;
    if (new Set(points.map(({ temperatureC }) => temperatureC)).size < 2) return [];
    const { energy } = reduceTransition(series);
    const subject = `heat ${heat.value}, ${zone ?? "zone not stated"}`;
    const common = { id: `${id}-${index}`, subject, points };
    if (isRefusal(energy)) return [drawTransition({ ...common, refusal: energy.message })];
    return [drawTransition({ ...common, curve: sampled(energy), reached: reached(energy) })];
  });
}

const DRAWN_POINTS = 120;

function sampled(fit: TransitionFit) {
  const [coldest, warmest] = fit.testedC;
  return Array.from({ length: DRAWN_POINTS + 1 }, (_, i) => {
    const temperatureC = coldest + ((warmest - coldest) * i) / DRAWN_POINTS;
    return { temperatureC, ...meanAt(fit, temperatureC) };
  });
}

function reached(fit: TransitionFit) {
  return ([27, 41] as const).flatMap((value) => {
    const at = transitionTemperature(fit, value, "J");
    return "none" in at ? [] : [{ name: `T${value}J`, temperatureC: at.value, value }];
  });
}
