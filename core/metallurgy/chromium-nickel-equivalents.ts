import { linearFormula, type Terms } from "./linear.js";

/** Residuals that certificates of grades without them often leave out. */
const OPTIONAL = ["Mo", "Nb", "Ti", "Cu"] as const;

/** Schaeffler 1949: weld metal, no nitrogen. */
export const CREQ_SCHAEFFLER = equivalent("Creq", "Schaeffler", { Cr: "1", Mo: "1", Si: "1.5", Nb: "0.5" }, 4);
export const NIEQ_SCHAEFFLER = equivalent("Nieq", "Schaeffler", { Ni: "1", C: "30", Mn: "0.5" }, 4);

/** DeLong 1974: Schaeffler's chromium side, nitrogen on the nickel side; its diagram ends at FN 18. */
export const CREQ_DELONG = equivalent("Creq", "DeLong", { Cr: "1", Mo: "1", Si: "1.5", Nb: "0.5" }, 4);
export const NIEQ_DELONG = equivalent("Nieq", "DeLong", { Ni: "1", C: "30", N: "30", Mn: "0.5" }, 4);

/** WRC-1992: axes 17 to 31 and 9 to 18. */
export const CREQ_WRC_1992 = equivalent("Creq", "WRC-1992", { Cr: "1", Mo: "1", Nb: "0.7" }, 4);
export const NIEQ_WRC_1992 = equivalent("Nieq", "WRC-1992", { Ni: "1", C: "35", N: "20", Cu: "0.25" }, 4);

/** Hammar and Svensson 1979: primary solidification. */
export const CREQ_HAMMAR_SVENSSON = equivalent(
  "Creq",
  "Hammar-Svensson",
  { Cr: "1", Mo: "1.37", Si: "1.5", Nb: "2", Ti: "3" },
  1,
);
export const NIEQ_HAMMAR_SVENSSON = equivalent(
  "Nieq",
  "Hammar-Svensson",
  { Ni: "1", Mn: "0.31", C: "22", N: "14.2", Cu: "1" },
  1,
);

function equivalent(quantity: "Creq" | "Nieq", author: string, terms: Terms, sources: number) {
  return linearFormula({
    name: `${quantity} (${author})`,
    quantity,
    unit: "1",
    terms,
    optional: OPTIONAL.filter((element) => element in terms),
    expression: Object.entries(terms)
      .map(([element, factor]) => (factor === "1" ? element : `${factor} ${element}`))
      .join(" + "),
    source: author === "WRC-1992" ? "Welding Research Council 1992 diagram" : author,
    known: { how: "seen", sources },
    reportPlaces: 2,
  });
}
