import type { Meter } from "../meter.js";
import { ReadFailure } from "../problem.js";
import type { Archive } from "./archive.js";
import { type Relation, readXmlPart } from "./package-parts.js";
import { createRichTextBuilder } from "./rich-text.js";

const LONGEST = 200;

/** What comments on a sheet's cells say, by the cell's name ("B6"); cut to 200 characters. */
export async function readComments(
  archive: Archive,
  relations: readonly Relation[],
  meter: Meter,
): Promise<ReadonlyMap<string, string>> {
  const comments = new Map<string, string>();
  const part = relations.find(({ type }) => type === "comments")?.target;
  if (part === undefined) return comments;
  const builder = createRichTextBuilder();
  let cell = "";
  await readXmlPart(archive, part, {
    open(name, attributes) {
      if (name === "comment") cell = attributes.ref ?? "";
      else builder.open(name, attributes);
    },
    text: (text) => builder.text(text),
    close(name) {
      builder.close(name);
      if (name !== "comment") return;
      comments.set(cell, builder.take().text.replace(/\s+/g, " ").trim().slice(0, LONGEST));
      const { sharedStrings: limit } = meter.budgets;
      if (comments.size > limit) throw new ReadFailure("too-many-strings", `It has more than ${limit} comments.`);
    },
  });
  return comments;
}

/** The paragraphs of text boxes and shapes that lie over a sheet's cells, each cut to 200 characters. */
export async function readShapes(
  archive: Archive,
  relations: readonly Relation[],
  meter: Meter,
): Promise<readonly string[]> {
  const paragraphs: string[] = [];
  const part = relations.find(({ type }) => type === "drawing")?.target;
  if (part === undefined) return paragraphs;
  let paragraph: string | undefined;
  let isText = false;
  await readXmlPart(archive, part, {
    open(name) {
      if (name === "p") paragraph = "";
      isText = name === "t";
    },
    text(text) {
      if (isText && paragraph !== undefined) paragraph += text;
    },
    close(name) {
      isText = false;
      if (name !== "p") return;
      const said = (paragraph ?? "").replace(/\s+/g, " ").trim().slice(0, LONGEST);
      paragraph = undefined;
      if (said !== "") paragraphs.push(said);
      const { sharedStrings: limit } = meter.budgets;
      if (paragraphs.length > limit) throw new ReadFailure("too-many-strings", `It has more than ${limit} shapes.`);
    },
  });
  return paragraphs;
}
