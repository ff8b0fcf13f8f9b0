import { z } from "zod";
import { QUANTITIES } from "../../core/quantity/quantity.js";
import type { Comparison } from "../../core/report/compare/comparison.js";
import type { Promised } from "./same-type.js";

const zone = z.enum(["base", "weld", "haz", "zone not stated"]);

const atService = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("tested"), value: z.number(), least: z.number(), pieces: z.int() }),
    z.strictObject({
      kind: z.literal("interpolated"),
      value: z.number(),
      betweenC: z.tuple([z.number(), z.number()]),
    }),
    z.strictObject({
      kind: z.literal("not-tested-there"),
      nearestC: z.number(),
      side: z.enum(["warmer", "colder"]),
    }),
    z.strictObject({ kind: z.literal("not-tested") }),
  ])
  .meta({ description: "Interpolated between tests, never carried beyond them" });

const row = z.strictObject({
  material: z.strictObject({ name: z.string(), heat: z.string(), zone }),
  points: z.array(
    z.strictObject({
      temperatureC: z.number(),
      value: z.number(),
      exact: z.string().meta({ description: "The stored reading with all its digits" }),
    }),
  ),
  atService,
  meets: z.boolean().exactOptional().meta({ description: "Absent where nothing is required or nothing is known" }),
  required: z.string().exactOptional(),
  requiredSingle: z.string().exactOptional(),
  notes: z.array(z.string()),
});

export const comparisonSchema = z
  .strictObject({
    comparison: z.literal(1),
    serviceC: z.number(),
    requirement: z.string().nullable(),
    properties: z.array(
      z.strictObject({
        quantity: z.enum(QUANTITIES),
        zone: zone.exactOptional(),
        title: z.string(),
        unit: z.string(),
        rows: z.array(row),
        winner: z.strictObject({ name: z.string().exactOptional(), message: z.string() }),
      }),
    ),
  })
  .meta({
    id: "Comparison",
    description: "Heats and zones side by side at the service temperature. It judges nothing.",
  });

true satisfies Promised<z.infer<typeof comparisonSchema>, Comparison>;
