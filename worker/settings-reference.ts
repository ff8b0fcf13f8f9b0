import { z } from "zod";
import { settingsSchema } from "./config.js";

/**
 * The configuration reference as Markdown, made from the schemas that check the settings. `others`: what runs beside stores and
 * worker, by its heading.
 */
export function settingsReference(others: Readonly<Record<string, z.ZodObject>> = {}): string {
  return Object.entries({ ...others, "Stores and worker": settingsSchema })
    .map(([heading, schema]) => `## ${heading}\n\n${table(schema)}`)
    .join("\n");
}

function table(schema: z.ZodObject): string {
  const { properties = {} } = z.toJSONSchema(schema, { io: "input", unrepresentable: "any" });
  const rows = Object.entries(properties).map(([name, property]) => {
    const { description = "", default: fallback } = property as { description?: string; default?: unknown };
    const shown = fallback === undefined || fallback === "" ? "" : `\`${String(fallback)}\``;
    return `| \`${name}\` | ${shown} | ${description} |`;
  });
  return ["| variable | left out | meaning |", "| --- | --- | --- |", ...rows, ""].join("\n");
}
