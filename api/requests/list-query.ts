import { z } from "zod";
import { OUTCOMES } from "../../core/verdict/finding.js";
import type { ListFilter } from "../../worker/store/records.js";

export const limitParameter = z.coerce
  .number()
  .int()
  .min(1)
  .max(200)
  .default(50)
  .meta({ description: "Items on one page" });
export const cursorParameter = z.string().max(200).optional().meta({ description: "From `next` of the page before" });

const time = z.iso.datetime({ offset: true }).optional();
const tagFilter = z
  .union([z.string(), z.array(z.string()).max(20)])
  .optional()
  .meta({ description: "name:value; may be repeated, and then all must match", example: "order:4500012" });

export const listQuerySchema = z.strictObject({
  state: z.enum(["accepted", "working", "done", "failed"]).optional(),
  verdict: z.enum(OUTCOMES).optional(),
  tag: tagFilter,
  createdFrom: time,
  createdBefore: time,
  limit: limitParameter,
  cursor: cursorParameter,
});

export function listFilter(query: z.output<typeof listQuerySchema>, owner: string | undefined): ListFilter {
  const { state, verdict, createdFrom, createdBefore } = query;
  const tags = readTagPairs(query.tag);
  return {
    ...(owner === undefined ? {} : { owner }),
    ...(state ? { state } : {}),
    ...(verdict ? { verdict } : {}),
    ...(tags ? { tags } : {}),
    ...(createdFrom ? { createdFrom: new Date(createdFrom) } : {}),
    ...(createdBefore ? { createdBefore: new Date(createdBefore) } : {}),
  };
}

/** name:value, as often as there are tags. */
export function readTagPairs(tag: string | string[] | undefined): Record<string, string> | undefined {
  if (tag === undefined) return undefined;
  const pairs = [tag].flat().map((pair) => {
    const colon = pair.indexOf(":");
    return colon < 0 ? [pair, ""] : [pair.slice(0, colon), pair.slice(colon + 1)];
  });
  return Object.fromEntries(pairs) as Record<string, string>;
}
