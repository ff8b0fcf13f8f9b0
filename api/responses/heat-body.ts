import { z } from "zod";
import type { HeatRecord } from "../../worker/store/heats.js";
import { outcomeSchema } from "./report-schema.js";

const heatSchema = z
  .strictObject({
    heat: z.string(),
    verdict: outcomeSchema,
    issuers: z.array(z.string()),
    submission: z.string(),
    createdAt: z.iso.datetime(),
    tags: z.record(z.string(), z.string()),
    links: z.strictObject({ submission: z.string(), report: z.string() }),
  })
  .meta({ id: "Heat" });

export const heatsSchema = z.strictObject({
  items: z.array(heatSchema),
  next: z.string().exactOptional().meta({ description: "Address of the next page; absent on the last" }),
});

export function heatBody({
  heat,
  verdict,
  issuers,
  submission,
  createdAt,
  tags,
}: HeatRecord): z.infer<typeof heatSchema> {
  const link = `/v1/submissions/${submission}`;
  return {
    heat,
    verdict,
    issuers: [...issuers],
    submission,
    createdAt: createdAt.toISOString(),
    tags: { ...tags },
    links: { submission: link, report: `${link}/report` },
  };
}
