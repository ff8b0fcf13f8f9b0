import { z } from "zod";
import { parseMeasure } from "../../core/requirement/parse-measure.js";
import { requirementSchema } from "../../core/requirement/requirement.js";

/** More than an engineer can look at side by side, and a bound for what one request may load. */
const [MOST_SUBMISSIONS, MOST_HEATS] = [50, 200];

const requirementName = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]{0,79}(@\d{1,6})?$/)
  .meta({ example: "t-204-shell-plate@3" });

export const newComparisonSchema = z
  .strictObject({
    serviceTemperature: z
      .string()
      .max(40)
      .refine((text) => parseMeasure(text, "temperature") !== undefined, 'write it with its unit, like "-196 °C"')
      .meta({ description: "With its unit", example: "-196 °C" }),
    of: z
      .array(
        z.strictObject({
          submission: z.string().max(60),
          heats: z
            .array(z.string().max(200))
            .min(1)
            .max(MOST_HEATS)
            .exactOptional()
            .meta({ description: "As the report names them; spaces, hyphens and case do not matter. Left out: all" }),
        }),
      )
      .min(1)
      .max(MOST_SUBMISSIONS)
      .meta({ description: "A heat that is in several submissions is one material" }),
    requirement: z
      .union([requirementSchema, requirementName])
      .exactOptional()
      .meta({ description: "The project's minimums: JSON, or the name of a stored requirement" }),
  })
  .meta({ id: "NewComparison" });

export type NewComparison = z.output<typeof newComparisonSchema>;
