import { type Requirement, requirementSchema } from "../../core/requirement/requirement.js";
import { parseJson } from "./parse-json.js";

export function readRequirement(text: string | undefined): Requirement | null {
  if (text === undefined) return null;
  return parseJson(text, requirementSchema, "The requirement", "requirement-invalid");
}
