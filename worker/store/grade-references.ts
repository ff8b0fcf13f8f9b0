import type { Grade, ToleranceTable } from "../../core/grades/grade.js";
import { impactRule } from "../../core/requirement/impact-rules.js";

/**
 * Names in a grade that lead nowhere: an impact rule, a tolerance table. A misspelt one would quietly be judged by
 * something else, or not at all.
 */
export function deadReferences(
  { limits, productTolerance }: Grade,
  tolerances: readonly ToleranceTable[],
): readonly { readonly pointer: string; readonly message: string }[] {
  const dead: { pointer: string; message: string }[] = [];
  if (productTolerance !== undefined && !tolerances.some(({ id }) => id === productTolerance)) {
    dead.push({ pointer: "/productTolerance", message: `there is no tolerance table ${productTolerance}` });
  }
  for (const [index, limit] of limits.entries()) {
    if (limit.impact !== undefined && !impactRule(limit.impact.rule)) {
      dead.push({ pointer: `/limits/${index}/impact/rule`, message: `there is no impact rule ${limit.impact.rule}` });
    }
  }
  return dead;
}
