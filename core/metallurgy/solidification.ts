import { ratioFormula } from "./ratio.js";

/** Above about 1.55 a weld solidifies as primary ferrite, which resists hot cracking (threshold from memory). */
export const PRIMARY_FERRITE_RATIO = "1.55";

export const CREQ_NIEQ_HAMMAR_SVENSSON = ratioFormula({
  name: "Creq/Nieq (Hammar-Svensson)",
  upper: { Cr: "1", Mo: "1.37", Si: "1.5", Nb: "2", Ti: "3" },
  lower: { Ni: "1", Mn: "0.31", C: "22", N: "14.2", Cu: "1" },
  optional: ["Mo", "Nb", "Ti", "Cu"],
  expression: "(Cr + 1.37 Mo + 1.5 Si + 2 Nb + 3 Ti) / (Ni + 0.31 Mn + 22 C + 14.2 N + Cu)",
  source: "Hammar and Svensson 1979",
  known: { how: "seen", sources: 1 },
  reportPlaces: 2,
  advisory: "the threshold for primary ferrite, about 1.55, is recalled",
});

/** Manganese ties sulphur; a high ratio avoids hot cracking. No limit is adopted. */
export const MN_S = ratioFormula({
  name: "Mn/S",
  upper: { Mn: "1" },
  lower: { S: "1" },
  optional: [],
  expression: "Mn / S",
  source: "the ratio that its name states",
  known: { how: "seen", sources: 1 },
  reportPlaces: 0,
  advisory: "no limit is adopted",
});
