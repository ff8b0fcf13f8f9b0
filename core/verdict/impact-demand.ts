import type { Orientation, Zone } from "../certificate/certificate.js";
import type { Limit } from "../grades/grade.js";
import { decimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import type { Rounding } from "../quantity/rounding.js";
import { type ImpactRule, impactRule } from "../requirement/impact-rules.js";
import { parseMeasure } from "../requirement/parse-measure.js";
import type { ImpactRequirement } from "../requirement/requirement.js";
import { subsizeRule } from "../requirement/subsize-requirement.js";
import type { SubsizeRule } from "../requirement/subsize-rules.js";
import type { AppliedLimit } from "./applied-limit.js";
import type { LimitSource } from "./judgement.js";
import { keptWith } from "./remembered.js";

/** What impact tests of one zone must show, from the project or from a grade, with every rule already looked up. */
export interface ImpactDemand {
  readonly id: string;
  readonly holder?: string;
  readonly source: LimitSource;
  readonly rounding: Rounding;
  readonly zone: Zone;
  readonly temperature: Measure;
  /** One row of a table by temperature, of which the order names one: a colder test belongs to another row. */
  readonly onlyAtTemperature?: true;
  readonly average?: Measure;
  readonly single?: Measure;
  readonly lateralExpansion?: Measure;
  readonly rule: ImpactRule;
  readonly subsize?: SubsizeRule;
  readonly orientation?: Orientation;
  readonly striker?: 2 | 8;
}

/** Where no rule is named: a set of three held to just the minimums that are stated. */
const AS_STATED = impactRule("as stated")!;

/** `requirementSchema` has already refused rule names that are not known. */
export function demandOfProject(
  impact: ImpactRequirement,
  index: number,
  name: string,
  rounding: Rounding,
): ImpactDemand {
  const measure = (text: string | undefined, dimension: string) =>
    text === undefined ? undefined : parseMeasure(text, dimension);
  const average = measure(impact.average, "energy");
  const single = measure(impact.single, "energy");
  const lateralExpansion = measure(impact.lateralExpansion, "length");
  const subsize = impact.subsize === undefined ? undefined : subsizeRule(impact.subsize);
  return {
    id: `requirement#impact/${index}`,
    source: { standard: impact.source ?? name },
    rounding,
    zone: impact.zone,
    temperature: parseMeasure(impact.temperature, "temperature")!,
    ...(average && { average }),
    ...(single && { single }),
    ...(lateralExpansion && { lateralExpansion }),
    rule: (impact.rule !== undefined && impactRule(impact.rule)) || AS_STATED,
    ...(subsize && { subsize }),
    ...(impact.orientation && { orientation: impact.orientation }),
    ...(impact.striker && { striker: impact.striker }),
  };
}

/** A grade's limits do not change while it is held. */
const DEMANDS = new WeakMap<AppliedLimit, ImpactDemand>();

/** A grade's impact limit: the average of a set by the limit's rule. */
export function demandOfGrade(applied: AppliedLimit): ImpactDemand | undefined {
  const { impact, min } = applied.limit;
  if (!impact || min === undefined) return undefined;
  return keptWith(DEMANDS, applied, () => makeDemand(applied, impact, min));
}

function makeDemand(applied: AppliedLimit, impact: NonNullable<Limit["impact"]>, min: string): ImpactDemand {
  const { limit } = applied;
  const minimum: Measure = { value: decimal(min), unit: limit.unit };
  const rule = impactRule(impact.rule);
  return {
    id: applied.id,
    ...(applied.holder !== undefined && { holder: applied.holder }),
    source: applied.source,
    rounding: applied.rounding,
    zone: limit.when?.zone ?? "base",
    temperature: { value: decimal(impact.temperature), unit: "°C" },
    ...(limit.onlyIfTested && { onlyAtTemperature: true as const }),
    ...(limit.quantity === "LE" ? { lateralExpansion: minimum } : { average: minimum }),
    ...(impact.single !== undefined && { single: { value: decimal(impact.single), unit: limit.unit } }),
    rule: rule ?? AS_STATED,
    ...(limit.when?.orientation && { orientation: limit.when.orientation }),
  };
}
