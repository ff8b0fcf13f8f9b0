import type { Meter } from "../meter.js";
import { ReadFailure } from "../problem.js";
import type { Archive } from "./archive.js";
import { readXmlPart } from "./package-parts.js";
import { createRichTextBuilder, type RichText } from "./rich-text.js";

/** The workbook's table of texts; cells refer to it by position. Plain texts are kept as bare strings, there may be a million. */
export async function readSharedStrings(
  archive: Archive,
  part: string | undefined,
  meter: Meter,
): Promise<(string | RichText)[]> {
  const strings: (string | RichText)[] = [];
  if (part === undefined) return strings;
  const { sharedStrings: limit } = meter.budgets;
  const builder = createRichTextBuilder();
  await readXmlPart(archive, part, {
    open: (name, attributes) => builder.open(name, attributes),
    text: (text) => builder.text(text),
    close(name) {
      builder.close(name);
      if (name !== "si") return;
      const taken = builder.take();
      strings.push(taken.bold || taken.struck || taken.partlyStruck !== undefined ? taken : taken.text);
      if (strings.length > limit) throw new ReadFailure("too-many-strings", `It has more than ${limit} texts.`);
    },
  });
  return strings;
}
