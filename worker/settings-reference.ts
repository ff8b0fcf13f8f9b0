import { z } from "zod";
import { settingsSchema } from "./config.js";

/** The configuration reference as a Markdown table, made from the schema that checks the settings. */
export function settingsReference(schema: z.ZodObject = settingsSchema): string {
  const { properties = {} } = z.toJSONSchema(schema, { io: "input", unrepresentable: "any" });
  const rows = Object.entries(properties).map(([name, property]) => {
    const { description = "", default: fallback } = property as { description?: string; default?: unknown };
    const shown = fallback === undefined || fallback === "" ? "" : `\`${String(fallback)}\``;
    return `| \`${name}\` | ${shown} | ${description} |`;
  });
  return ["| variable | left out | meaning |", "| --- | --- | --- |", ...rows, ""].join("\n");
}
