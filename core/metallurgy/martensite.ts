import type { Formula } from "./formula.js";
import { linearFormula } from "./linear.js";

const DISAGREE =
  "Angel and Nohara part company above about 8 % nickel (factors 9.5 and 29): show both, judge with neither";

/** Md30: temperature at which a true strain of 0.30 turns half of the austenite into martensite. */
export const MD30_ANGEL = linearFormula({
  name: "Md30 (Angel)",
  aliases: ["Md30 (Angel 1954)"],
  quantity: "Md30",
  unit: "°C",
  terms: { "1": "413", C: "-462", N: "-462", Si: "-9.2", Mn: "-8.1", Cr: "-13.7", Ni: "-9.5", Mo: "-18.5" },
  optional: ["Mo"],
  expression: "413 - 462 (C + N) - 9.2 Si - 8.1 Mn - 13.7 Cr - 9.5 Ni - 18.5 Mo",
  source: "Angel 1954",
  known: { how: "seen", sources: 2 },
  reportPlaces: 0,
  advisory: DISAGREE,
});

const NOHARA = {
  C: "-462",
  N: "-462",
  Si: "-9.2",
  Mn: "-8.1",
  Cr: "-13.7",
  Ni: "-29",
  Cu: "-29",
  Mo: "-18.5",
  Nb: "-68",
} as const;

export const MD30_NOHARA = linearFormula({
  name: "Md30 (Nohara)",
  aliases: ["Md30 (Nohara 1977)"],
  quantity: "Md30",
  unit: "°C",
  // -1.42 (G - 8), multiplied out.
  terms: { "1": "562.36", ...NOHARA, G: "-1.42" },
  optional: ["Mo", "Cu", "Nb"],
  expression: "551 - 462 (C + N) - 9.2 Si - 8.1 Mn - 13.7 Cr - 29 (Ni + Cu) - 18.5 Mo - 68 Nb - 1.42 (G - 8)",
  source: "Nohara 1977; wrought metal of ASTM grain size G",
  known: { how: "seen", sources: 2 },
  reportPlaces: 0,
  advisory: DISAGREE,
});

/** For heats whose grain size is not reported: the grain term is zero at G 8, and moves the result by 1.42 °C per number. */
export const MD30_NOHARA_G8: Formula = linearFormula({
  name: "Md30 (Nohara, G 8)",
  quantity: "Md30",
  unit: "°C",
  terms: { "1": "551", ...NOHARA },
  optional: ["Mo", "Cu", "Nb"],
  expression: "551 - 462 (C + N) - 9.2 Si - 8.1 Mn - 13.7 Cr - 29 (Ni + Cu) - 18.5 Mo - 68 Nb",
  source: "Nohara 1977, at ASTM grain size 8",
  known: { how: "seen", sources: 2 },
  reportPlaces: 0,
  advisory: DISAGREE,
});

/**
 * Start of martensite on cooling without strain. Prints differ in the first two numbers (1302 and 1667) and rich grades
 * give temperatures below absolute zero, so only its sign says something: above 0 °C martensite is likely, far below it not.
 */
export const MS_EICHELMANN_HULL = linearFormula({
  name: "Ms (Eichelmann-Hull)",
  unit: "°C",
  terms: { "1": "1305", C: "-1665", N: "-1665", Si: "-28", Mn: "-33", Cr: "-42", Ni: "-61" },
  optional: [],
  expression: "1305 - 1665 (C + N) - 28 Si - 33 Mn - 42 Cr - 61 Ni",
  source: "Eichelmann and Hull 1953",
  known: { how: "seen", sources: 1 },
  reportPlaces: 0,
  advisory: "a sign, not a temperature: far below 0 °C means no martensite on cooling to room temperature",
});

export const MS_ANDREWS = linearFormula({
  name: "Ms (Andrews)",
  unit: "°C",
  terms: { "1": "539", C: "-423", Mn: "-30.4", Ni: "-17.7", Cr: "-12.1", Mo: "-7.5", Si: "-7.5" },
  optional: ["Mo"],
  expression: "539 - 423 C - 30.4 Mn - 17.7 Ni - 12.1 Cr - 7.5 Mo - 7.5 Si",
  source: "Andrews 1965, with the silicon term of one print",
  known: { how: "seen", sources: 1 },
  validity: [
    { of: "Cr", upTo: "5", known: "memory" },
    { of: "Ni", upTo: "5", known: "memory" },
  ],
  reportPlaces: 0,
  advisory: "low-alloy steel, not stainless; some prints leave silicon out",
});

/** Stacking-fault energy in mJ/m2: low values favour martensite under strain. Coefficients recalled, wide scatter. */
export const SFE_SCHRAMM_REED = linearFormula({
  name: "SFE (Schramm-Reed)",
  unit: "1",
  terms: { "1": "-53", Ni: "6.2", Cr: "0.7", Mn: "3.2", Mo: "9.3" },
  optional: ["Mo"],
  expression: "-53 + 6.2 Ni + 0.7 Cr + 3.2 Mn + 9.3 Mo",
  source: "Schramm and Reed 1975, in mJ/m2; elements seen, numbers recalled",
  known: { how: "memory", sources: 0 },
  reportPlaces: 0,
  advisory: "wide scatter between authors",
});
