import { compare, type Decimal, decimal } from "../quantity/decimal.js";
import { type Chemistry, contentInterval } from "./chemistry.js";
import type { Formula } from "./formula.js";
import { MD30_ANGEL, MD30_NOHARA_G8, MS_EICHELMANN_HULL } from "./martensite.js";
import { CREQ_NIEQ_HAMMAR_SVENSSON, PRIMARY_FERRITE_RATIO } from "./solidification.js";
import { NB_EXCESS, TI_EXCESS } from "./stabilisation.js";

/** Something an engineer would say about welding or using this heat. It informs; no outcome rests on it. */
export type Hint = SensitisationHint | MartensiteHint | SolidificationHint;

export interface SensitisationHint {
  readonly code: "sensitisation";
  /** stabilised: enough titanium or niobium for all carbon. low: within the carbon of L grades. */
  readonly concern: "stabilised" | "low" | "raised" | "high";
  readonly carbonPercent: Decimal;
}

export interface MartensiteHint {
  readonly code: "martensite";
  /**
   * How readily strain makes martensite at the service temperature. at room temperature: already in forming, as in 301.
   * expected, unlikely: both formulas agree. possible: they do not.
   */
  readonly tendency: "at room temperature" | "expected" | "possible" | "unlikely";
  readonly serviceTemperatureC: Decimal;
  readonly md30C: { readonly angel: Decimal; readonly nohara: Decimal };
  /** Sign of Ms by Eichelmann and Hull: above zero, martensite forms on cooling without strain. */
  readonly onCooling: "likely" | "not on cooling to room temperature" | "not known";
}

interface SolidificationHint {
  readonly code: "solidification";
  readonly primary: "ferrite" | "austenite";
  readonly ratio: Decimal;
}

/** Hints for austenitic stainless steel; none for other metals or where the contents needed are not reported. */
export function weldabilityHints(chemistry: Chemistry, serviceTemperatureC?: Decimal): Hint[] {
  if (!isAustenitic(chemistry)) return [];
  return [
    sensitisation(chemistry),
    serviceTemperatureC && martensite(chemistry, serviceTemperatureC),
    solidification(chemistry),
  ].filter((hint) => hint !== undefined);
}

/** Chromium and nickel that no martensitic, ferritic or nickel steel has together; our own line, wide of both sides. */
function isAustenitic(chemistry: Chemistry): boolean {
  return atLeast(chemistry, "Cr", "16") && atLeast(chemistry, "Ni", "6");
}

function atLeast(chemistry: Chemistry, element: "Cr" | "Ni", content: string): boolean {
  const { low } = contentInterval(chemistry, element);
  return low !== undefined && compare(low, decimal(content)) >= 0;
}

/** Ceilings of the L grades and of the plain grades in ASTM and EN. */
const LOW_CARBON = decimal("0.030");
const PLAIN_CARBON = decimal("0.08");

function sensitisation(chemistry: Chemistry): SensitisationHint | undefined {
  const carbon = contentInterval(chemistry, "C").high;
  if (!carbon) return undefined;
  return { code: "sensitisation", concern: sensitisationConcern(chemistry, carbon), carbonPercent: carbon };
}

function sensitisationConcern(chemistry: Chemistry, carbon: Decimal): SensitisationHint["concern"] {
  if (isSurelyPositive(TI_EXCESS, chemistry) || isSurelyPositive(NB_EXCESS, chemistry)) return "stabilised";
  if (compare(carbon, LOW_CARBON) <= 0) return "low";
  return compare(carbon, PLAIN_CARBON) <= 0 ? "raised" : "high";
}

function isSurelyPositive(excess: Formula, chemistry: Chemistry): boolean {
  const result = excess.compute(chemistry);
  return result.kind === "value" && result.low !== undefined && result.low.digits >= 0n;
}

const ROOM_TEMPERATURE_C = decimal("20");

function martensite(chemistry: Chemistry, serviceTemperatureC: Decimal): MartensiteHint | undefined {
  const angel = statedValue(MD30_ANGEL, chemistry);
  const nohara = statedValue(MD30_NOHARA_G8, chemistry);
  if (!angel || !nohara) return undefined;
  const reaches = (temperature: Decimal) => [angel, nohara].filter((md30) => compare(temperature, md30) <= 0).length;
  const agreeing = reaches(serviceTemperatureC);
  const tendency =
    reaches(ROOM_TEMPERATURE_C) === 2
      ? "at room temperature"
      : agreeing === 2
        ? "expected"
        : agreeing === 1
          ? "possible"
          : "unlikely";
  return {
    code: "martensite",
    tendency,
    serviceTemperatureC,
    md30C: { angel, nohara },
    onCooling: onCooling(chemistry),
  };
}

function onCooling(chemistry: Chemistry): MartensiteHint["onCooling"] {
  const start = MS_EICHELMANN_HULL.compute(chemistry);
  if (start.kind !== "value" || !start.low || !start.high) return "not known";
  if (start.low.digits > 0n) return "likely";
  return start.high.digits < 0n ? "not on cooling to room temperature" : "not known";
}

function solidification(chemistry: Chemistry): SolidificationHint | undefined {
  const ratio = statedValue(CREQ_NIEQ_HAMMAR_SVENSSON, chemistry);
  if (!ratio) return undefined;
  const primary = compare(ratio, decimal(PRIMARY_FERRITE_RATIO)) > 0 ? "ferrite" : "austenite";
  return { code: "solidification", primary, ratio };
}

function statedValue(formula: Formula, chemistry: Chemistry): Decimal | undefined {
  const result = formula.compute(chemistry);
  return result.kind === "value" ? result.value : undefined;
}
