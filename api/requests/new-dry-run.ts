import { z } from "zod";
import { requirementSchema } from "../../core/requirement/requirement.js";

const heat = z.string().min(1).max(200).optional().meta({ description: "Only this heat, as the report names it" });

/** As it is described. */
export const newDryRunSchema = z.strictObject({
  requirement: z
    .union([
      z
        .string()
        .regex(
          /^[a-z0-9][a-z0-9-]{0,79}(@\d{1,6})?$/,
          "names no stored requirement: t-204-shell-plate or t-204-shell-plate@3",
        ),
      requirementSchema,
    ])
    .meta({ description: "To try: as JSON, or the name of a stored one, with or without a version" }),
  heat,
});

/** As it is looked at first: what is wrong within a requirement is pointed at there, which a choice of two cannot do. */
export const dryRunOutlineSchema = z.strictObject({ requirement: z.union([z.string(), z.looseObject({})]), heat });
