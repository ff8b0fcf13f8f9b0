import { z } from "zod";
import { QUANTITIES } from "../../core/quantity/quantity.js";
import type { HeatHistory } from "../../core/report/history/history.js";
import type { Promised } from "./same-type.js";

const point = z.strictObject({
  heat: z.string(),
  date: z.string().meta({ description: "ISO date of the mill's document, else of when it was handed in" }),
  submission: z.string().exactOptional(),
  value: z.string().meta({ description: "A decimal as text; of several pieces their mean" }),
  readings: z.array(z.string()).meta({ description: "The readings as they are stored" }),
  signal: z.enum(["beyond-limit", "run", "range"]).exactOptional(),
});

const limits = z
  .strictObject({
    mean: z.number(),
    lower: z.number(),
    upper: z.number(),
    meanRange: z.number(),
    upperRange: z.number(),
    fromHeats: z.int(),
  })
  .meta({ description: "Individuals and moving range. Absent for fewer than eight heats" });

export const historySchema = z
  .strictObject({
    history: z.literal(1),
    series: z.array(
      z.strictObject({
        mill: z.string(),
        grade: z.string(),
        quantity: z.enum(QUANTITIES),
        zone: z.enum(["base", "weld", "haz"]).exactOptional(),
        temperature: z.string().exactOptional(),
        title: z.string(),
        unit: z.string(),
        points: z.array(point),
        limits: limits.exactOptional(),
        required: z.strictObject({ min: z.string().exactOptional(), max: z.string().exactOptional() }),
        message: z.string(),
      }),
    ),
    notes: z.array(z.string()),
  })
  .meta({ id: "HeatHistory", description: "Carbon, Rp0.2 and impact energy over time, for each mill and grade." });

true satisfies Promised<z.infer<typeof historySchema>, HeatHistory>;
