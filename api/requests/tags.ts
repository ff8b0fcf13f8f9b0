import { z } from "zod";
import { parseJson } from "./parse-json.js";

/** What the sender wants to find a submission by again: order, item, supplier. */
export const tagsSchema = z
  .record(
    z.string().regex(/^[a-zA-Z][\w.-]{0,39}$/, "a tag's name has letters, digits, . _ and -"),
    z.string().max(200),
  )
  .refine((tags) => Object.keys(tags).length <= 20, "at most 20 tags");

export function readTags(text: string | undefined): Readonly<Record<string, string>> {
  if (text === undefined) return {};
  return parseJson(text, tagsSchema, "The tags", "tags-invalid");
}
