import { normaliseHeatNumber } from "../../certificate/heat-number.js";
import { controlLimits } from "../compare/control-limits.js";
import { type HeatValue, heatValues } from "./heat-values.js";
import type { HeatHistory, HistoryEntry, HistoryPoint, HistorySeries } from "./history.js";
import { MILL_NOT_STATED } from "./history-entries.js";
import { requiredOfNewest } from "./required-of-newest.js";
import { seriesMessage, seriesTitle } from "./series-words.js";

export interface HistoryOptions {
  /** So many heats from the first set the limits, so that a drift does not widen them; all of them where it is left out. */
  readonly baseHeats?: number;
}

/**
 * Carbon, Rp0.2 and impact energy heat by heat, for each mill and grade, between control limits of individuals and moving range.
 * `entries` may name a heat more than once: the later entry goes before the earlier, kind of test by kind of test.
 */
export function heatHistory(entries: readonly HistoryEntry[], { baseHeats }: HistoryOptions = {}): HeatHistory {
  const groups = new Map<string, Group>();
  let left = 0;
  let undated = 0;
  for (const entry of entries) {
    const found = heatValues(entry);
    left += found.left;
    if (entry.date === undefined) {
      undated++;
      continue;
    }
    for (const value of found.values) addTo(groups, entry, value);
  }
  const nameless = entries.filter(({ mill }) => mill === MILL_NOT_STATED).length;
  const notes = [
    ...(nameless > 0
      ? [
          `The documents of ${nameless} ${nameless === 1 ? "heat" : "heats"} name no issuer. Their values may come from several mills, so they have no control limits; name the mill if it is one.`,
        ]
      : []),
    ...(undated > 0
      ? [`${undated} ${undated === 1 ? "heat has" : "heats have"} no date and no place in time; left out.`]
      : []),
    ...(left > 0
      ? [
          `${left} ${left === 1 ? "reading was" : "readings were"} doubted, a bound only, or without a test temperature; left out.`,
        ]
      : []),
  ];
  return { history: 1, series: [...groups.values()].map((group) => seriesOf(group, baseHeats)).sort(byTitle), notes };
}

interface Group {
  readonly kind: Omit<HeatValue, "value" | "readings">;
  readonly mill: string;
  readonly grade: string;
  /** By heat. */
  readonly points: Map<string, { readonly point: HistoryPoint; readonly entry: HistoryEntry }>;
}

function addTo(groups: Map<string, Group>, entry: HistoryEntry, { value, readings, ...kind }: HeatValue): void {
  const grade = entry.grades.length === 0 ? "grade not stated" : [...entry.grades].sort().join(" / ");
  const { mill, heat, submission } = entry;
  const key = JSON.stringify([mill, grade, kind]);
  const group = groups.get(key) ?? { kind, mill, grade, points: new Map() };
  const point = { heat, date: entry.date!, value, readings, ...(submission !== undefined && { submission }) };
  group.points.set(normaliseHeatNumber(heat), { point, entry });
  groups.set(key, group);
}

function seriesOf({ kind, mill, grade, points }: Group, baseHeats: number | undefined): HistorySeries {
  const ordered = [...points.values()].sort((left, right) => byDate(left.point, right.point));
  // Limits from a mixture of mills are wide enough to hide what each of them does.
  const isOneMill = mill !== MILL_NOT_STATED;
  const values = ordered.map(({ point }) => Number(point.value));
  const limits = isOneMill ? controlLimits(values, baseHeats) : undefined;
  const signals = new Map(limits?.signals.map(({ index, because }) => [index, because]));
  const marked = ordered.map(({ point }, index) => {
    const signal = signals.get(index);
    return signal === undefined ? point : { ...point, signal };
  });
  const { quantity, zone, temperature, unit } = kind;
  const title = seriesTitle(mill, grade, kind);
  return {
    mill,
    grade,
    quantity,
    ...(zone && { zone }),
    ...(temperature !== undefined && { temperature }),
    title,
    unit,
    points: marked,
    ...(limits && {
      limits: {
        mean: limits.mean,
        lower: limits.lower,
        upper: limits.upper,
        meanRange: limits.meanRange,
        upperRange: limits.upperRange,
        fromHeats: Math.min(baseHeats ?? marked.length, marked.length),
      },
    }),
    required: requiredOfNewest(ordered.at(-1)!.entry, kind),
    message: seriesMessage(title, unit, marked, limits, isOneMill),
  };
}

function byDate(left: HistoryPoint, right: HistoryPoint): number {
  return compareText(left.date, right.date) || compareText(left.heat, right.heat);
}

function byTitle(left: HistorySeries, right: HistorySeries): number {
  return compareText(left.title, right.title);
}

function compareText(left: string, right: string): number {
  return left < right ? -1 : left > right ? 1 : 0;
}
