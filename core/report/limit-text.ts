import type { Finding } from "../verdict/finding.js";

/** "at most 0.030 %", "at least 70 ksi", "17.5 to 19.5 %"; empty where the finding holds no bound. */
export function limitText({ limit }: Pick<Finding, "limit">): string {
  if (!limit) return "";
  const unit = withUnit(limit.unit);
  if (limit.min !== undefined && limit.max !== undefined) return `${limit.min} to ${limit.max}${unit}`;
  if (limit.max !== undefined) return `at most ${limit.max}${unit}`;
  if (limit.min !== undefined) return `at least ${limit.min}${unit}`;
  return "to be reported";
}

/** "outside by 0.004", "inside by 0.002", "on the limit": the sign of a margin alone is easily misread. */
export function marginText({ margin }: Pick<Finding, "margin">): string {
  if (margin === undefined) return "";
  if (/^-?0*\.?0*$/.test(margin)) return "on the limit";
  return margin.startsWith("-") ? `outside by ${margin.slice(1)}` : `inside by ${margin}`;
}

export function judgedText({ judged, unit }: Pick<Finding, "judged" | "unit">): string {
  return judged === undefined ? "" : `${judged}${withUnit(unit)}`;
}

/** "ASTM A240/A240M (2023), Table 1" */
export function sourceText({ source }: Pick<Finding, "source">): string {
  const edition = source.edition === undefined ? "" : ` (${source.edition})`;
  const clause = source.clause === undefined ? "" : `, ${source.clause}`;
  return `${source.standard}${edition}${clause}`;
}

function withUnit(unit: string | undefined): string {
  return unit === undefined || unit === "1" ? "" : ` ${unit}`;
}
