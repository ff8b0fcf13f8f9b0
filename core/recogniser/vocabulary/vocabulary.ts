import { CODES } from "./codes.js";
import { ENGLISH } from "./english.js";
import type { Entry } from "./entry.js";
import { FRENCH } from "./french.js";
import { GERMAN } from "./german.js";
import { ITALIAN } from "./italian.js";
import { SPANISH } from "./spanish.js";
import { SYMBOLS } from "./symbols.js";

/** Languages mix on one certificate ("Zugfestigkeit / Tensile strength"), so all are searched together. */
export const VOCABULARY: readonly Entry[] = [
  ...SYMBOLS,
  ...CODES,
  ...ENGLISH,
  ...GERMAN,
  ...FRENCH,
  ...ITALIAN,
  ...SPANISH,
];
