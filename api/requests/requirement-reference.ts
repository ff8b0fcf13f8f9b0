import { z } from "zod";
import type { Requirement } from "../../core/requirement/requirement.js";
import type { Requirements } from "../../worker/store/requirements.js";
import { Problem } from "../problems.js";
import { readRequirement } from "./requirement.js";

export const slugSchema = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]{0,79}$/, "has lower-case letters, digits and hyphens, at most 80")
  .meta({ example: "t-204-shell-plate" });

/** The requirement of a submission: as JSON, or by the name of a stored one, t-204-shell-plate or t-204-shell-plate@3. */
export async function requirementOf(
  text: string | undefined,
  owner: string,
  requirements: Requirements,
): Promise<Requirement | null> {
  // A form sends the empty choice of a list as an empty text.
  if (text?.trim() === "") return null;
  const reference = /^([a-z0-9][a-z0-9-]{0,79})(?:@(\d{1,6}))?$/.exec(text?.trim() ?? "");
  if (!reference) return readRequirement(text);
  const [, slug = "", version] = reference;
  const stored = await requirements.get(owner, slug, version === undefined ? undefined : Number(version));
  if (!stored) throw new Problem("requirement-unknown", { detail: `There is no requirement ${reference[0]}.` });
  if (stored.archivedAt) {
    throw new Problem("requirement-archived", { detail: `The requirement ${slug} is archived.` });
  }
  return stored.requirement;
}
