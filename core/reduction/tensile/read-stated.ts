import type { Quantity } from "../../quantity/quantity.js";
import type { HeaderLine } from "../reading/header-lines.js";
import { readNumber } from "../reading/number-style.js";
import { unitFactor } from "../reading/spelled-unit.js";
import type { StatedResult } from "./record.js";

const PROOF = "proof|yield|offset|plastic|dehngrenze|streckgrenze|élasticité|elastic|elástic|scostamento";

/** Results by the names that laboratories give them in five languages; the narrower name first. */
const NAMES: readonly (readonly [quantity: Quantity, name: RegExp])[] = [
  ["Rp0.2", new RegExp(`\\br?p ?0[.,]20?\\b|(?:${PROOF}).*0[.,]20? ?%|0[.,]20? ?%.*(?:${PROOF})`)],
  ["Rp1.0", new RegExp(`\\brp ?1(?:[.,]0)?\\b|(?:${PROOF}).*\\b1(?:[.,]0)? ?%|\\b1(?:[.,]0)? ?%.*(?:${PROOF})`)],
  ["Rt0.5", /\brt ?0[.,]5\b/],
  ["ReH", /\breh\b|upper yield|obere streckgrenze/],
  ["ReL", /\brel\b|lower yield|untere streckgrenze/],
  [
    "Rm",
    /\brm\b|tensile strength|zugfestigkeit|\buts\b|résistance à la traction|carico di rottura|resistenza a trazione|resistencia a la tracción/,
  ],
  ["Agt", /\bagt\b|total (?:elongation|extension) at max/],
  ["Ag", /\bag\b|uniform elongation|gleichma(?:ß|ss)dehnung/],
  ["Z", /^z$|reduction (?:of|in) area|einschnürung|striction|strizione|estricción/],
  ["E", /young|modulus|e-?modul|slope of (?:the )?(?:linear|elastic)/],
  [
    "Elongation",
    /^a5?$|elongation (?:after|at) (?:fracture|break)|bruchdehnung|^elongation$|(?:allongement|allungamento|alargamiento).*(?:rupture|rottura|rotura)|^(?:allongement|allungamento|alargamiento)(?: %)?$/,
  ],
];

/** The laboratory's own results in the header lines, in report units; a strength without a unit is left aside. */
export function readStatedResults(lines: readonly HeaderLine[], decimalMark: "." | ","): StatedResult[] {
  return lines.flatMap((line) => {
    const quantity = NAMES.find(([, name]) => name.test(line.name))?.[0];
    const printed = readNumber(line.value, decimalMark);
    if (!quantity || !Number.isFinite(printed)) return [];
    const factor = factorFor(quantity, line.unit);
    if (factor === undefined) return [];
    return [{ quantity, value: printed * factor, printed: line.value, place: line.cell.place }];
  });
}

function factorFor(quantity: Quantity, unit: string): number | undefined {
  if (["Ag", "Agt", "Z", "Elongation"].includes(quantity)) return unit === "" || unit === "%" ? 1 : undefined;
  const toMPa = unitFactor(unit, "stress");
  return quantity === "E" && toMPa !== undefined ? toMPa / 1000 : toMPa;
}
