import type { Grade, Limit, Range } from "../../../core/grades/grade.js";
import { compare, decimal } from "../../../core/quantity/decimal.js";

type Side = "min" | "max" | "minFrom" | "maxFrom";
const SIDES: readonly Side[] = ["min", "max", "minFrom", "maxFrom"];

/** Thickness brackets of one bound that overlap or leave a gap; none of the sources held here leaves one. Each side is looked at by itself, for minimum and maximum may be two limits. */
export function bracketFaults(grade: Grade): string[] {
  return SIDES.flatMap((side) => {
    const bounding = grade.limits.filter((limit) => limit[side] !== undefined);
    return [...groupBy(bounding, (limit) => otherConditions(limit))].flatMap(([name, limits]) =>
      faultsBetween(limits.map((limit) => limit.when?.thickness ?? {})).map(
        (fault) => `${grade.id} ${name} ${side}: ${fault}`,
      ),
    );
  });
}

function otherConditions({ quantity, sumOf, formula, analysis, impact, when }: Limit): string {
  const { thickness: _, ...conditions } = when ?? {};
  // A80 for thin and A for thicker sheet are one requirement, so their brackets must meet too.
  const limited = formula ?? sumOf?.join("+") ?? (quantity === "A80" ? "A" : quantity);
  return [limited, analysis, impact?.temperature, ...Object.values(conditions)]
    .filter((part) => part !== undefined)
    .join(" ");
}

function groupBy<T>(items: readonly T[], key: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return groups;
}

function faultsBetween(ranges: readonly Range[]): string[] {
  const sorted = [...ranges].sort((left, right) => lowEnd(left) - lowEnd(right));
  return sorted.slice(1).flatMap((range, index) => {
    const below = sorted[index]!;
    const top = below.upTo ?? below.under;
    const bottom = range.over ?? range.from;
    if (top === undefined || bottom === undefined) return [`${print(below)} overlaps ${print(range)}`];
    const order = compare(decimal(top), decimal(bottom));
    const meets = order === 0 && (below.upTo !== undefined) !== (range.from !== undefined);
    if (meets) return [];
    return [
      `${print(below)} ${order < 0 || below.under !== undefined ? "leaves a gap before" : "overlaps"} ${print(range)}`,
    ];
  });
}

function lowEnd(range: Range): number {
  return Number(range.over ?? range.from ?? "-1");
}

function print(range: Range): string {
  return Object.entries(range).flat().join(" ") || "any thickness";
}
