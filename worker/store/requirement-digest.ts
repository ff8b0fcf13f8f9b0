import { createHash } from "node:crypto";
import canonicalize from "canonicalize";
import type { Requirement } from "../../core/requirement/requirement.js";

/** SHA-256 of the canonical JSON, as the report names a requirement: whoever holds the JSON can compute it. */
export function digestOf(requirement: Requirement): string {
  return createHash("sha256").update(canonicalize(requirement)!).digest("hex");
}
