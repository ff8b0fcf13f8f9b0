import { z } from "zod";
import { gradeSchema, type LibraryGrade } from "../../core/grades/grade.js";

const gradeSummarySchema = z
  .strictObject({
    id: z.string(),
    standard: z.string(),
    edition: z.string(),
    name: z.string(),
    designations: z.array(z.string()),
    forms: z.array(z.string()),
    limits: z.int().meta({ description: "How many" }),
    link: z.string(),
  })
  .meta({ id: "GradeSummary" });

export const gradesSchema = z.strictObject({ items: z.array(gradeSummarySchema) });
export const gradeAnswerSchema = z.strictObject({
  digest: z.string().meta({ description: "SHA-256 of the grade's file, as reports name it" }),
  grade: gradeSchema,
});

export function gradeSummary({ grade }: LibraryGrade): z.infer<typeof gradeSummarySchema> {
  const { id, standard, edition, name, designations, forms, limits } = grade;
  return {
    id,
    standard,
    edition: edition.name,
    name,
    designations,
    forms,
    limits: limits.length,
    link: `/v1/grades/${id}`,
  };
}
