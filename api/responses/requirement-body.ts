import { z } from "zod";
import { requirementSchema } from "../../core/requirement/requirement.js";
import type { StoredRequirement } from "../../worker/store/requirements.js";

const summary = {
  slug: z.string(),
  version: z.int(),
  name: z.string(),
  digest: z.string().meta({ description: "SHA-256 of the canonical JSON, as reports name it" }),
  createdAt: z.iso.datetime(),
  createdBy: z.string(),
  archivedAt: z.iso.datetime().exactOptional().meta({ description: "Since then it can be read and not be chosen" }),
  links: z.strictObject({ self: z.string(), newest: z.string() }),
};
const requirementSummarySchema = z.strictObject(summary).meta({ id: "RequirementVersion" });

export const requirementsSchema = z.strictObject({ items: z.array(requirementSummarySchema) });
export const storedRequirementSchema = z
  .strictObject({ ...summary, requirement: requirementSchema })
  .meta({ id: "StoredRequirement" });
export const differencesSchema = z.strictObject({
  before: z.int(),
  after: z.int(),
  items: z.array(
    z.strictObject({ pointer: z.string(), before: z.unknown().exactOptional(), after: z.unknown().exactOptional() }),
  ),
});

export function requirementSummary(stored: StoredRequirement): z.infer<typeof requirementSummarySchema> {
  const newest = `/v1/requirements/${stored.slug}`;
  return {
    slug: stored.slug,
    version: stored.version,
    name: stored.requirement.name,
    digest: stored.digest,
    createdAt: stored.createdAt.toISOString(),
    createdBy: stored.createdBy,
    ...(stored.archivedAt && { archivedAt: stored.archivedAt.toISOString() }),
    links: { self: `${newest}/versions/${stored.version}`, newest },
  };
}

export function requirementBody(stored: StoredRequirement): z.infer<typeof storedRequirementSchema> {
  return { ...requirementSummary(stored), requirement: stored.requirement };
}
