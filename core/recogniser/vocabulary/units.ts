import type { Unit } from "../../quantity/unit.js";

/** Spellings of units as papers print them, on tidied text. Order matters: the longer unit first. */
export const UNIT_SPELLINGS: readonly (readonly [RegExp, Unit])[] = [
  [/\bkgf?\s?[.x*]?\s?m\s?\/\s?cm\s?\^?2(?!\d)/i, "kgf.m/cm2"],
  [/\b(?:J|joules?)\s?\/\s?cm\s?\^?2(?!\d)/i, "J/cm2"],
  [/\b(?:kgf?|kp)\s?\/\s?(?:mm\s?\^?2(?!\d)|sq\.? ?mm)/i, "kgf/mm2"],
  [/\b(?:kgf?|kp)\s?\/\s?(?:cm\s?\^?2(?!\d)|sq\.? ?cm)/i, "kgf/cm2"],
  [/\bN\s?\/\s?(?:mm\s?\^?2(?!\d)|sq\.? ?mm)/i, "N/mm2"],
  [/\bM\s?Pa\b/i, "MPa"],
  [/\bGPa\b/i, "GPa"],
  [/\b(?:10\s?\^\s?3|1,?000)\s?(?:x\s?)?psi\b|\bpsi\s?[x*]\s?(?:10\s?\^\s?3|1,?000)\b|\bk\.?(?:psi|si)\b/i, "ksi"],
  [/\bpsi\b|\blbs?f?\s?\/\s?in\s?\^?2(?!\d)/i, "psi"],
  [/\b(?:ft|foot|feet)\s?[.\-x* ]?\s?(?:lbs?f?|pounds?)\b\.?|\blbs?f?\s?[.\-x* ]?\s?ft\b/i, "ft.lbf"],
  [/\bkgf?\s?[.x*]\s?m\b|\bkgfm\b|\bkpm\b/i, "kgf.m"],
  [/\bN\s?\.?\s?m\b(?!m)/, "J"],
  [/\bjoules?\b|(?<![A-Za-z\d])J(?![A-Za-z\d])/, "J"],
  [/°\s?C\b|\bdeg\.?\s?C\b|\bcelsius\b/i, "°C"],
  [/°\s?F\b|\bdeg\.?\s?F\b|\bfahrenheit\b/i, "°F"],
  [/[([]\s?K\s?[)\]]|\bkelvin\b/, "K"],
  [/\bppm\b|\bmg\/kg\b/i, "ppm"],
  [/\bmils?\b|\b0?\.001 in\b/i, "mil"],
  [/(?<![A-Za-z])mm(?!\w)/, "mm"],
  [/[([]\s?in\.?\s?[)\]]|\binch(?:es)?\b/i, "in"],
  [/(?:\b(?:wt|mass|gew|m)\.?[-. ]?)?%/i, "%"],
];
