import { type Requirement, requirementSchema } from "../../core/requirement/requirement.js";
import { readJsonFile } from "./read-json-file.js";
import type { Terminal } from "./terminal.js";

export function readRequirement(name: string, terminal: Terminal): Promise<Requirement> {
  return readJsonFile("the requirement", name, requirementSchema, terminal);
}
