import { z } from "zod";
import { parseDecimal } from "../quantity/decimal.js";
import { isElement, QUANTITIES } from "../quantity/quantity.js";
import { ROUNDINGS } from "../quantity/rounding.js";
import { isUnit, UNITS, type Unit } from "../quantity/unit.js";
import { conditionFaults } from "./condition-faults.js";
import { limitFaults } from "./limit-faults.js";

/** A decimal as text, so that 0.030 keeps its zeros. */
export const decimalText = z.string().refine((text) => parseDecimal(text) !== undefined, "not a decimal number");
export const unitText = z.custom<Unit>(
  (value) => typeof value === "string" && isUnit(value),
  `not a known unit; known are ${UNITS.join(", ")}`,
);
const element = z.string().refine(isElement, "not an element symbol");

/** How a value came into the library; it decides whether the limit may fail a heat (rule of judgement 10). */
export const knownSchema = z.strictObject({
  /**
   * seen: read in sources for this standard. sister: only in a sister standard or another edition. memory: recalled.
   * user: the user's own file, or a limit that the user has confirmed.
   */
  how: z.enum(["seen", "sister", "memory", "user"]),
  /** Independent sources that agree. */
  sources: z.int().nonnegative(),
  /** Set where sources for the same edition disagree, or a footnote may lift the bound: says how. */
  conflict: z.string().optional(),
  /** Short names of the sources, resolved in the library's sources file. */
  from: z.array(z.string()).optional(),
  /** Who has compared the limit with which document, where the user has confirmed it. */
  confirmed: z.strictObject({ by: z.string(), on: z.iso.date(), document: z.string() }).optional(),
});
export type Known = z.infer<typeof knownSchema>;

/** Open range as tables in standards say it: over 6 up to 50. `from` and `upTo` include the number; `over` and `under` do not. */
export const rangeSchema = z.strictObject({
  over: decimalText.optional(),
  from: decimalText.optional(),
  upTo: decimalText.optional(),
  under: decimalText.optional(),
});
export type Range = z.infer<typeof rangeSchema>;

/** All given conditions must hold. A condition whose value is unknown leaves the limit in doubt, it does not drop it. */
export const conditionsSchema = z.strictObject({
  /** Product forms, lower case: plate, sheet, strip, bar, pipe, forging … */
  form: z.array(z.string()).optional(),
  /** Product thickness (wall, diameter) in mm. */
  thickness: rangeSchema.optional(),
  /** Delivery conditions, lower case: "solution annealed", "1/4 hard". */
  condition: z.array(z.string()).optional(),
  orientation: z.enum(["longitudinal", "transverse", "through-thickness"]).optional(),
  zone: z.enum(["base", "weld", "haz"]).optional(),
});
export type Conditions = z.infer<typeof conditionsSchema>;

/** A bound computed from other elements of the same analysis: plus + times × (sum of `of`). */
const boundFromSchema = z.strictObject({
  times: decimalText,
  of: z.array(element).min(1),
  plus: decimalText.optional(),
});
export type BoundFrom = z.infer<typeof boundFromSchema>;

export const limitSchema = z.strictObject({
  /** Unique in its file; the full name is `<grade id>#<limit id>`. */
  id: z.string().min(1),
  quantity: z.enum(QUANTITIES),
  /** The limited value is the sum of these elements; `quantity` is then the first of them. */
  sumOf: z.array(element).optional(),
  /** The limited value is a computed index by this formula name (core/metallurgy). */
  formula: z.string().optional(),
  /**
   * Chemistry: which analysis it bounds. A heat limit holds for a product analysis too, with the tolerance table's allowance,
   * unless a product limit is printed beside it, which replaces the table. Absent: one bound for both, without allowance.
   */
  analysis: z.enum(["heat", "product"]).optional(),
  unit: unitText,
  /** Inclusive, digits as printed. */
  min: decimalText.optional(),
  max: decimalText.optional(),
  minFrom: boundFromSchema.optional(),
  maxFrom: boundFromSchema.optional(),
  /** The standard's partner value in the other unit system: a standard by itself, never a conversion. */
  inchPound: z.strictObject({ unit: unitText, min: decimalText.optional(), max: decimalText.optional() }).optional(),
  /** Each whole `step` of `element` under `below` (its own maximum) raises this maximum by `raises`, up to `ceiling`. */
  tradeOff: z
    .strictObject({ element, below: decimalText, step: decimalText, raises: decimalText, ceiling: decimalText })
    .optional(),
  /** Limits of one group are alternatives (Brinell or Rockwell): those reported must pass, one must be reported. */
  group: z.string().optional(),
  /** No bound, but the standard wants the value determined and reported. */
  reportOnly: z.literal(true).optional(),
  /** The standard asks for the value only where the order does: not reported is then not missing, reported is held to the bound. */
  onlyIfTested: z.literal(true).optional(),
  /**
   * Impact: test temperature in °C, and how a set of three is held to the bound: a rule by name (core/requirement/impact-rules).
   * The bound is that of the set's average, or of each piece where the rule says so; `single` is a single minimum printed beside it.
   */
  impact: z.strictObject({ temperature: decimalText, rule: z.string(), single: decimalText.optional() }).optional(),
  when: conditionsSchema.optional(),
  /** Where it differs from the grade's own. */
  rounding: z.enum(ROUNDINGS).optional(),
  source: z.strictObject({ clause: z.string().min(1), note: z.string().optional() }),
  known: knownSchema,
});
export type Limit = z.infer<typeof limitSchema>;

export const gradeSchema = z
  .strictObject({
    /** `<standard>/<edition>/<grade>`, equal to the file's path: astm-a240/2007e1/s30403. */
    id: z.string().regex(/^[a-z0-9.-]+\/[a-z0-9.-]+\/[a-z0-9.-]+$/),
    standard: z.string().min(1),
    edition: z.strictObject({
      /** As people cite it: "07e1 and later". */
      name: z.string().min(1),
      /** First and, where superseded, last year that the file holds for. */
      from: z.int().optional(),
      to: z.int().optional(),
      /** An older edition whose years are not known. */
      superseded: z.literal(true).optional(),
    }),
    /** What the report calls it: "S30403 (304L)". */
    name: z.string().min(1),
    /** Every designation that names it inside its standard: S30403, 304L, 1.4307, X2CrNi18-9 … */
    designations: z.array(z.string()).min(1),
    forms: z.array(z.string()).min(1),
    /** ASTM: "rounding method" (E29). Standards that state none: "absolute". */
    rounding: z.enum(ROUNDINGS),
    /** Key of a product-analysis tolerance table beside the grades, e.g. "astm-a480". */
    productTolerance: z.string().optional(),
    limits: z.array(limitSchema),
    /** Our own words; differences between editions, footnotes not carried as limits. */
    notes: z.array(z.string()).optional(),
  })
  .superRefine(({ edition, forms, limits }, context) => {
    if (edition.from !== undefined && edition.to !== undefined && edition.from > edition.to)
      context.addIssue({ code: "custom", path: ["edition", "from"], message: "is after to" });
    const ids = new Set<string>();
    for (const [index, limit] of limits.entries()) {
      if (ids.has(limit.id))
        context.addIssue({ code: "custom", path: ["limits", index, "id"], message: "is not unique" });
      ids.add(limit.id);
      for (const { field, message } of limitFaults(limit)) {
        context.addIssue({ code: "custom", path: ["limits", index, field], message });
      }
      for (const { path, message } of conditionFaults(limit.when ?? {}, forms)) {
        context.addIssue({ code: "custom", path: ["limits", index, "when", ...path], message });
      }
    }
  });
export type Grade = z.infer<typeof gradeSchema>;

/** Product-analysis tolerances of one general standard. A row is chosen by the specified limit, not by the measured value. */
export const toleranceTableSchema = z.strictObject({
  id: z.string(),
  standard: z.string(),
  edition: z.string(),
  rows: z.array(
    z.strictObject({
      element,
      /** The specified limit that selects the row, mass %. */
      limit: rangeSchema,
      underMin: decimalText.optional(),
      overMax: decimalText.optional(),
      known: knownSchema,
    }),
  ),
});
export type ToleranceTable = z.infer<typeof toleranceTableSchema>;

/** A grade with the SHA-256 of its file, which reports name. */
export interface LibraryGrade {
  readonly grade: Grade;
  readonly digest: string;
}

/** Everything the judge may look limits up in. Built by the worker from files, handed to core as values. */
export interface Library {
  readonly grades: readonly LibraryGrade[];
  readonly tolerances: readonly ToleranceTable[];
}
