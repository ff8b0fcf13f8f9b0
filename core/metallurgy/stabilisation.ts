import { linearFormula } from "./linear.js";
import { ratioFormula } from "./ratio.js";

/** A240 asks 321 for titanium of at least 5 (C + N). */
export const TI_CN = ratioFormula({
  name: "Ti/(C+N)",
  upper: { Ti: "1" },
  lower: { C: "1", N: "1" },
  optional: [],
  expression: "Ti / (C + N)",
  source: "ASTM A240, type 321",
  known: { how: "seen", sources: 1 },
  reportPlaces: 1,
});

export const TI_C = ratioFormula({
  name: "Ti/C",
  upper: { Ti: "1" },
  lower: { C: "1" },
  optional: [],
  expression: "Ti / C",
  source: "limits of the form Ti >= 5 C",
  known: { how: "seen", sources: 1 },
  reportPlaces: 1,
});

/** A240 asks 347 for niobium of at least 10 C. */
export const NB_C = ratioFormula({
  name: "Nb/C",
  upper: { Nb: "1" },
  lower: { C: "1" },
  optional: [],
  expression: "Nb / C",
  source: "ASTM A240, type 347",
  known: { how: "seen", sources: 1 },
  reportPlaces: 1,
});

/** Titanium left after TiN (3.42 N) and TiC (4 C) by their masses: below zero some carbon stays free. */
export const TI_EXCESS = linearFormula({
  name: "Ti - 3.42 N - 4 C",
  unit: "%",
  terms: { Ti: "1", N: "-3.42", C: "-4" },
  optional: [],
  expression: "Ti - 3.42 N - 4 C",
  source: "stoichiometry of TiN and TiC",
  known: { how: "seen", sources: 1 },
  reportPlaces: 3,
});

/** Niobium left after NbC. */
export const NB_EXCESS = linearFormula({
  name: "Nb - 7.75 C",
  unit: "%",
  terms: { Nb: "1", C: "-7.75" },
  optional: [],
  expression: "Nb - 7.75 C",
  source: "stoichiometry of NbC",
  known: { how: "seen", sources: 1 },
  reportPlaces: 3,
});
