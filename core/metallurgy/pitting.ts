import { linearFormula, type Terms } from "./linear.js";

/**
 * Pitting resistance equivalents. Three nitrogen factors are in print, so the name carries the factor.
 * Molybdenum and nitrogen only add: where one is not reported, the number is a lower bound and can still meet a minimum.
 */
export const PREN_16 = pren("PREN (16 N)", "16");
export const PREN_20 = pren("PREN (20 N)", "20");
export const PREN_30 = pren("PREN (30 N)", "30");

export const PREW_16 = linearFormula({
  name: "PREW (16 N)",
  aliases: ["PREW"],
  quantity: "PREN",
  unit: "1",
  terms: { Cr: "1", Mo: "3.3", W: "1.65", N: "16" },
  optional: ["Mo", "N"],
  expression: "Cr + 3.3 (Mo + 0.5 W) + 16 N",
  source: "literature on duplex steels",
  known: { how: "memory", sources: 0 },
  reportPlaces: 1,
});

function pren(name: string, nitrogen: string) {
  const terms: Terms = { Cr: "1", Mo: "3.3", N: nitrogen };
  return linearFormula({
    name,
    aliases: [`PREN${nitrogen}`, `PRE (${nitrogen} N)`, `Cr+3.3Mo+${nitrogen}N`],
    quantity: "PREN",
    unit: "1",
    terms,
    optional: ["Mo", "N"],
    expression: `Cr + 3.3 Mo + ${nitrogen} N`,
    source: "literature on stainless steels; the factor of nitrogen differs by author",
    known: { how: "seen", sources: 2 },
    reportPlaces: 1,
  });
}
