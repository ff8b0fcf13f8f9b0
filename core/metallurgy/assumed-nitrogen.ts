import { decimal } from "../quantity/decimal.js";
import { FN_WRC_1992 } from "./ferrite-number.js";
import type { Formula, FormulaResult } from "./formula.js";

/**
 * Ferrite Number of weld metal whose nitrogen was not measured, with the nitrogen that ASME VIII-1 assumes by process in a
 * note to Figure UHA-51-1. A limit gets it only by naming it; nitrogen that was reported goes before.
 */
export const FN_GMAW = assumingNitrogen("FN (WRC-1992, GMAW)", "0.08");
export const FN_SELF_SHIELDED = assumingNitrogen("FN (WRC-1992, self-shielded FCAW)", "0.12");
export const FN_OTHER_PROCESS = assumingNitrogen("FN (WRC-1992, other process)", "0.06");

function assumingNitrogen(name: string, nitrogenPercent: string): Formula {
  return {
    ...FN_WRC_1992,
    name,
    aliases: [],
    needs: FN_WRC_1992.needs.filter((element) => element !== "N"),
    optional: FN_WRC_1992.optional,
    expression: `${FN_WRC_1992.expression}; N ${nitrogenPercent} % where not measured`,
    compute: (chemistry): FormulaResult => {
      if (chemistry.has("N")) return FN_WRC_1992.compute(chemistry);
      const result = FN_WRC_1992.compute(new Map(chemistry).set("N", { value: decimal(nitrogenPercent) }));
      if (result.kind !== "value") return result;
      return { ...result, cautions: [`nitrogen not measured, taken as ${nitrogenPercent} %`, ...result.cautions] };
    },
  };
}
