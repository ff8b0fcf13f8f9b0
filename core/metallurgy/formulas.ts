import type { Quantity } from "../quantity/quantity.js";
import { FN_GMAW, FN_OTHER_PROCESS, FN_SELF_SHIELDED } from "./assumed-nitrogen.js";
import { CE_CSA, CE_IIW, CEN, CET, PCM } from "./carbon-equivalents.js";
import * as equivalents from "./chromium-nickel-equivalents.js";
import { FN_WRC_1992 } from "./ferrite-number.js";
import type { Formula } from "./formula.js";
import {
  MD30_ANGEL,
  MD30_NOHARA,
  MD30_NOHARA_G8,
  MS_ANDREWS,
  MS_EICHELMANN_HULL,
  SFE_SCHRAMM_REED,
} from "./martensite.js";
import { PREN_16, PREN_20, PREN_30, PREW_16 } from "./pitting.js";
import { CREQ_NIEQ_HAMMAR_SVENSSON, MN_S } from "./solidification.js";
import { NB_C, NB_EXCESS, TI_C, TI_CN, TI_EXCESS } from "./stabilisation.js";

/** Every quantity that is computed from chemistry, in the order in which a report lists them. */
export const FORMULAS: readonly Formula[] = [
  CE_IIW,
  PCM,
  CET,
  CEN,
  CE_CSA,
  PREN_16,
  PREN_20,
  PREN_30,
  PREW_16,
  ...Object.values(equivalents),
  CREQ_NIEQ_HAMMAR_SVENSSON,
  FN_WRC_1992,
  FN_GMAW,
  FN_SELF_SHIELDED,
  FN_OTHER_PROCESS,
  MD30_ANGEL,
  MD30_NOHARA,
  MD30_NOHARA_G8,
  MS_EICHELMANN_HULL,
  MS_ANDREWS,
  SFE_SCHRAMM_REED,
  MN_S,
  TI_CN,
  TI_C,
  NB_C,
  TI_EXCESS,
  NB_EXCESS,
];

/** The formula of that name or alias; case, spaces and the spelling of minus do not matter. */
export function formula(name: string): Formula | undefined {
  return BY_NAME.get(plain(name));
}

/** Every formula that computes the quantity. */
export function formulasOf(quantity: Quantity): readonly Formula[] {
  return FORMULAS.filter((candidate) => candidate.quantity === quantity);
}

/**
 * The formula meant where a limit names only the quantity: one that is usual by far, or the only one.
 * None for Md30, Creq and Nieq, whose formulas contradict each other; the limit must name one.
 */
export function usualFormula(quantity: Quantity): Formula | undefined {
  const candidates = formulasOf(quantity);
  return candidates.length === 1 ? candidates[0] : candidates.find((candidate) => USUAL.includes(candidate));
}

const USUAL: readonly Formula[] = [CE_IIW, PREN_16, FN_WRC_1992];

const BY_NAME: ReadonlyMap<string, Formula> = new Map(
  FORMULAS.flatMap((known) => [known.name, ...known.aliases].map((name) => [plain(name), known] as const)),
);

function plain(name: string): string {
  return name.toLowerCase().replace(/\s+/g, "").replace(/[–−]/g, "-");
}
