import type { Limit } from "../grades/grade.js";
import type { ProjectLimit, Requirement } from "../requirement/requirement.js";
import type { AppliedLimit } from "./applied-limit.js";
import { demandOfProject, type ImpactDemand } from "./impact-demand.js";
import { keptWith } from "./remembered.js";

/** What a project asks for besides grades. */
interface ProjectMinimums {
  readonly limits: readonly AppliedLimit[];
  readonly demands: readonly ImpactDemand[];
}

const NOTHING: ProjectMinimums = { limits: [], demands: [] };

/** A requirement is the same for every heat of a submission and does not change while it is held. */
const PREPARED = new WeakMap<Requirement, ProjectMinimums>();

export function projectMinimums(requirement: Requirement | null): ProjectMinimums {
  if (requirement === null) return NOTHING;
  return keptWith(PREPARED, requirement, () => ({
    limits: projectLimits(requirement),
    demands: projectDemands(requirement),
  }));
}

function projectLimits({ limits = [], name, rounding }: Requirement): AppliedLimit[] {
  return limits.map((limit, index) => ({
    limit: asLimit(limit, index),
    id: `requirement#limits/${index}`,
    source: { standard: limit.source ?? name },
    rounding: limit.rounding ?? rounding ?? "absolute",
    // A project bounds what is delivered: one bound for both analyses, unless it names one.
    hasOwnProductLimit: limit.analysis === "heat",
  }));
}

function asLimit(limit: ProjectLimit, index: number): Limit {
  return {
    id: `limits/${index}`,
    quantity: limit.quantity,
    unit: limit.unit,
    ...(limit.min !== undefined && { min: limit.min }),
    ...(limit.max !== undefined && { max: limit.max }),
    ...(limit.analysis !== undefined && { analysis: limit.analysis }),
    ...(limit.formula !== undefined && { formula: limit.formula }),
    ...(limit.zone !== undefined && { when: { zone: limit.zone } }),
    source: { clause: limit.source ?? "project limit" },
    known: { how: "user", sources: 1 },
  };
}

function projectDemands({ impact = [], name, rounding = "absolute" }: Requirement): ImpactDemand[] {
  return impact.map((minimum, index) => demandOfProject(minimum, index, name, rounding));
}
