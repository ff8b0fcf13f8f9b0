import { z } from "zod";
import type { HeatGrades } from "../../core/report/grades-met.js";
import type { ReportDifference } from "../../core/report/report-difference.js";
import { UNDETERMINED_REASONS } from "../../core/verdict/finding.js";
import type { TrialRecord } from "../../worker/store/trials.js";
import { findingSchema, outcomeSchema } from "./report-schema.js";
import type { Promised } from "./same-type.js";

const verdictChange = z.strictObject({ before: outcomeSchema, after: outcomeSchema });
const requirementName = z.strictObject({ name: z.string(), digest: z.string() }).nullable();

const dryRunResultSchema = z
  .strictObject({
    requirement: z.strictObject({ before: requirementName, after: requirementName }),
    verdict: verdictChange,
    heats: z.array(
      z.strictObject({
        heat: z.string(),
        verdict: verdictChange,
        unchanged: z.int().nonnegative().meta({ description: "Findings that say the same before and after" }),
        findings: z.array(
          z.strictObject({ before: findingSchema.exactOptional(), after: findingSchema.exactOptional() }),
        ),
      }),
    ),
    changedGrades: z.array(z.string()).meta({
      description: "Grades whose limits were corrected since the report: differences in them are not the requirement's",
    }),
  })
  .meta({ id: "DryRunResult" });

export const dryRunSchema = z
  .strictObject({
    id: z.string(),
    state: z.enum(["accepted", "done"]),
    createdAt: z.iso.datetime(),
    result: dryRunResultSchema.exactOptional(),
    links: z.strictObject({ self: z.string(), submission: z.string() }),
  })
  .meta({
    id: "DryRun",
    description: "What another requirement would make of a submission. The submission stays as it is.",
  });

export type GradesMet = z.infer<typeof gradesMetSchema>;

export const gradesMetSchema = z
  .strictObject({
    items: z.array(
      z.strictObject({
        heat: z.string(),
        grades: z.array(
          z.strictObject({
            id: z.string(),
            standard: z.string(),
            edition: z.string(),
            name: z.string(),
            outcome: outcomeSchema,
            met: z.int().meta({ description: "Limits that are met" }),
            missed: z.int(),
            open: z.int().meta({ description: "Limits that could not be decided" }),
            reasons: z
              .array(
                z.strictObject({
                  outcome: outcomeSchema,
                  reason: z.enum(UNDETERMINED_REASONS).exactOptional(),
                  quantity: z.string(),
                  message: z.string(),
                }),
              )
              .meta({ description: "What misses the grade, if one or two limits do; what leaves it open" }),
          }),
        ),
      }),
    ),
  })
  .meta({
    id: "GradesMet",
    description:
      "Each heat against the whole library, nearest grades first; grades of which no limit is met are left out. Meeting the " +
      "limits of a grade does not certify the metal as that grade.",
  });

true satisfies Promised<z.infer<typeof gradesMetSchema>["items"][number], HeatGrades>;
true satisfies Promised<Omit<z.infer<typeof dryRunResultSchema>, "requirement" | "changedGrades">, ReportDifference>;

export function dryRunBody({ id, submission, state, createdAt, result }: TrialRecord): z.infer<typeof dryRunSchema> {
  const link = `/v1/submissions/${submission}`;
  return {
    id,
    state: state === "done" ? "done" : "accepted",
    createdAt: createdAt.toISOString(),
    ...(result ? { result: result as z.infer<typeof dryRunResultSchema> } : {}),
    links: { self: `${link}/dry-runs/${id}`, submission: link },
  };
}
