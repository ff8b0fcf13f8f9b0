import { z } from "zod";
import { decimalText, unitText } from "../grades/grade.js";
import { QUANTITIES } from "../quantity/quantity.js";
import { ROUNDINGS } from "../quantity/rounding.js";
import { type Dimension, unitsOf } from "../quantity/unit.js";
import { impactRule } from "./impact-rules.js";
import { parseMeasure } from "./parse-measure.js";
import { projectLimitFaults } from "./project-limit-faults.js";
import { subsizeRule } from "./subsize-requirement.js";

const measureText = (dimension: Dimension, example: string) =>
  z
    .string()
    .max(40)
    .refine(
      (text) => parseMeasure(text, dimension) !== undefined,
      `write it with its unit, like ${JSON.stringify(example)}; units known here: ${unitsOf(dimension).join(", ")}`,
    );

export const ZONES = ["base", "weld", "haz"] as const;
export const ORIENTATIONS = ["longitudinal", "transverse", "through-thickness"] as const;
export const DOCUMENT_TYPES = ["2.1", "2.2", "3.1", "3.2"] as const;

const gradeReference = z.strictObject({
  /** As people write it: "ASTM A240/A240M", "EN 10028-7". Left out: every standard that has the grade is a candidate. */
  standard: z.string().max(80).optional(),
  grade: z.string().min(1).max(80),
  /** Edition name or year, "2014"; left out: the certificate's, else the newest. */
  edition: z.string().max(80).optional(),
});

const projectLimit = z
  .strictObject({
    quantity: z.enum(QUANTITIES),
    min: decimalText.optional(),
    max: decimalText.optional(),
    unit: unitText,
    zone: z.enum(ZONES).optional(),
    analysis: z.enum(["heat", "product"]).optional(),
    /** Name of the formula for computed quantities (CE, PREN, FN, Md30 …) where there is more than one. */
    formula: z.string().max(40).optional(),
    rounding: z.enum(ROUNDINGS).optional(),
    /** The project's own document and clause. */
    source: z.string().max(200).optional(),
  })
  .refine((limit) => limit.min !== undefined || limit.max !== undefined, "a limit needs min, max or both")
  .superRefine((limit, context) => {
    for (const { field, message } of projectLimitFaults(limit)) {
      context.addIssue({ code: "custom", path: [field], message });
    }
  });

const impactRequirement = z
  .strictObject({
    zone: z.enum(ZONES),
    temperature: measureText("temperature", "-196 °C"),
    average: measureText("energy", "60 J").optional(),
    single: measureText("energy", "42 J").optional(),
    lateralExpansion: measureText("length", "0.38 mm").optional(),
    /** How singles are held where `single` is left out: a rule by name, see core/requirement/impact-rules. */
    rule: z
      .string()
      .max(40)
      .refine((name) => impactRule(name) !== undefined, "not a known impact rule")
      .optional(),
    /** How sub-size pieces are held: a rule by name. Left out: sub-size results are undetermined. */
    subsize: z
      .string()
      .max(40)
      .refine((name) => subsizeRule(name) !== undefined, "not a known sub-size rule")
      .optional(),
    orientation: z.enum(ORIENTATIONS).optional(),
    striker: z.union([z.literal(2), z.literal(8)]).optional(),
    source: z.string().max(200).optional(),
  })
  .refine(
    (impact) => impact.average !== undefined || impact.lateralExpansion !== undefined || impact.single !== undefined,
    "an impact requirement needs average, single or lateralExpansion",
  )
  .refine(
    (impact) => impact.average === undefined || impact.single !== undefined || impact.rule !== undefined,
    "an average needs either single or rule, so that single values are not judged by a guess",
  );

/** Requirement (JSON, version 1): what a heat must meet. Numbers are strings: digits count. */
export const requirementSchema = z.strictObject({
  requirement: z.literal(1),
  name: z.string().min(1).max(200),
  /** Several grades mean all of them (dual certified). Left out or empty: the grades the certificate claims. */
  grades: z.array(gradeReference).max(10).optional(),
  product: z
    .strictObject({
      form: z.string().max(60).optional(),
      thickness: measureText("length", "12 mm").optional(),
      condition: z.string().max(80).optional(),
    })
    .optional(),
  document: z.strictObject({ type: z.enum(DOCUMENT_TYPES) }).optional(),
  limits: z.array(projectLimit).max(200).optional(),
  impact: z.array(impactRequirement).max(50).optional(),
  /** Left out: each standard's own. */
  rounding: z.enum(ROUNDINGS).optional(),
});
export type Requirement = z.infer<typeof requirementSchema>;
export type ProjectLimit = z.infer<typeof projectLimit>;
export type ImpactRequirement = z.infer<typeof impactRequirement>;
export type GradeReference = z.infer<typeof gradeReference>;
