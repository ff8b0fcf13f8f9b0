import { decimal, toNumber } from "../quantity/decimal.js";
import type { Chemistry, Ingredient } from "./chemistry.js";
import type { Formula, FormulaResult, ValidityRange } from "./formula.js";
import { fromNumber } from "./from-number.js";
import { gaps, linearFormula, missingFrom, outsideValidity, parseTerms, sumInterval } from "./linear.js";

/** Carbon equivalents rank the hardening of the heat-affected zone of carbon and low-alloy steels. */
export const CE_IIW = linearFormula({
  name: "CE (IIW)",
  aliases: ["CE", "CEV", "IIW", "CE IIW", "Ceq", "C+Mn/6+(Cr+Mo+V)/5+(Ni+Cu)/15"],
  quantity: "CE",
  unit: "1",
  terms: { C: "1", Mn: "1/6", Cr: "1/5", Mo: "1/5", V: "1/5", Ni: "1/15", Cu: "1/15" },
  optional: [],
  expression: "C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15",
  source: "International Institute of Welding; EN 10025, ASTM A6 and A106 use the same",
  known: { how: "seen", sources: 4 },
  // Standards set CE limits whatever the carbon, so its lower bound of about 0.18 % is told with Pcm and not here.
  validity: upTo("memory", { C: "0.25", Mn: "1.7", Si: "0.8", Cr: "0.9", Cu: "1.0", Ni: "2.5", Mo: "0.75", V: "0.20" }),
  reportPlaces: 2,
});

export const PCM = linearFormula({
  name: "Pcm",
  aliases: ["CE (Pcm)", "CEPcm", "C+Si/30+(Mn+Cu+Cr)/20+Ni/60+Mo/15+V/10+5B"],
  quantity: "Pcm",
  unit: "1",
  terms: { C: "1", Si: "1/30", Mn: "1/20", Cu: "1/20", Cr: "1/20", Ni: "1/60", Mo: "1/15", V: "1/10", B: "5" },
  optional: ["B"],
  expression: "C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B",
  source: "Ito and Bessyo",
  known: { how: "seen", sources: 4 },
  validity: [
    { of: "C", upTo: "0.18", known: "seen" },
    ...upTo("memory", {
      Si: "0.60",
      Mn: "1.40",
      Cu: "0.50",
      Ni: "1.20",
      Cr: "1.20",
      Mo: "0.70",
      V: "0.12",
      B: "0.005",
    }),
  ],
  reportPlaces: 3,
});

export const CET = linearFormula({
  name: "CET",
  aliases: ["CE (CET)"],
  quantity: "CET",
  unit: "1",
  terms: { C: "1", Mn: "1/10", Mo: "1/10", Cr: "1/20", Cu: "1/20", Ni: "1/40" },
  optional: [],
  expression: "C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40",
  source: "EN 1011-2 method B",
  known: { how: "seen", sources: 4 },
  validity: [
    { of: "C", from: "0.05", upTo: "0.32", known: "seen" },
    { of: "Mn", from: "0.5", upTo: "1.9", known: "seen" },
    ...upTo("seen", {
      Si: "0.8",
      Cr: "1.5",
      Cu: "0.7",
      Mo: "0.75",
      Nb: "0.06",
      Ni: "2.5",
      Ti: "0.12",
      V: "0.18",
      B: "0.005",
    }),
  ],
  reportPlaces: 3,
});

const CEN_SUM = {
  Si: "1/24",
  Mn: "1/6",
  Cu: "1/15",
  Ni: "1/20",
  Cr: "1/5",
  Mo: "1/5",
  V: "1/5",
  Nb: "1/5",
  B: "5",
} as const;

/** CSA Z245.1 weighs the alloying by a factor of carbon, which is 1 above 0.21 %; the rest of its table was not seen. */
export const CE_CSA = linearFormula({
  name: "CE (CSA Z245.1)",
  quantity: "CE",
  unit: "1",
  terms: { C: "1", ...CEN_SUM },
  optional: ["Nb", "B"],
  expression: "C + F (Mn/6 + Si/24 + Cu/15 + Ni/20 + (Cr + Mo + V + Nb)/5 + 5 B), F = 1",
  source: "CSA Z245.1, worked example",
  known: { how: "seen", sources: 1 },
  validity: [{ of: "C", from: "0.22", known: "memory" }],
  reportPlaces: 2,
});

const CEN_TERMS = parseTerms(CEN_SUM);
const CEN_NEEDS: readonly Ingredient[] = ["C", "Si", "Mn", "Cu", "Ni", "Cr", "Mo", "V"];
const CEN_VALIDITY = upTo("memory", { Ni: "5" });

export const CEN: Formula = {
  name: "CEN",
  aliases: ["CE (CEN)", "CE (Yurioka)"],
  quantity: "CEN",
  unit: "1",
  needs: CEN_NEEDS,
  optional: ["Nb", "B"],
  expression: "C + A (Si/24 + Mn/6 + Cu/15 + Ni/20 + (Cr + Mo + V + Nb)/5 + 5 B), A = 0.75 + 0.25 tanh(20 (C - 0.12))",
  source: "Yurioka",
  known: { how: "seen", sources: 4 },
  validity: CEN_VALIDITY,
  reportPlaces: 2,
  compute: computeCen,
};

/** Every content, carbon included, only raises CEN, so its lowest and highest follow from theirs. */
function computeCen(chemistry: Chemistry): FormulaResult {
  const missing = missingFrom(chemistry, CEN_NEEDS);
  const low = cenEnd(chemistry, "low");
  if (missing.length > 0) return { kind: "missing", missing, ...(low && { low }) };
  const stated = new Map([...chemistry].map(([of, { value }]) => [of, { value }]));
  for (const of of CEN.optional) if (!stated.has(of)) stated.set(of, { value: decimal("0") });
  const value = cenEnd(stated, "low")!;
  const high = cenEnd(chemistry, "high");
  return {
    kind: "value",
    value,
    ...(low && { low }),
    ...(high && { high }),
    ...gaps(CEN_TERMS, chemistry),
    cautions: outsideValidity(CEN_VALIDITY, chemistry),
  };
}

const CARBON = parseTerms({ C: "1" });
const CEN_PLACES = 6;

function cenEnd(chemistry: Chemistry, end: "low" | "high") {
  const carbon = sumInterval(CARBON, chemistry, 0)[end];
  const alloying = sumInterval(CEN_TERMS, chemistry, 0)[end];
  if (!carbon || !alloying) return undefined;
  const factor = 0.75 + 0.25 * Math.tanh(20 * (toNumber(carbon) - 0.12));
  return fromNumber(toNumber(carbon) + factor * toNumber(alloying), CEN_PLACES);
}

function upTo(known: "seen" | "memory", ranges: Partial<Record<Ingredient, string>>): ValidityRange[] {
  return Object.entries(ranges).map(([of, limit]) => ({ of: of as Ingredient, upTo: limit, known }));
}
