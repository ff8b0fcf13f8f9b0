import { parse } from "content-disposition";

const LONGEST_NAME = 200;

/** The name of a raw body: from Content-Disposition, else from ?name=, else one that says only that it has none. */
export function documentName(disposition: string | undefined, queryName: unknown): string {
  const stated = nameIn(disposition) ?? (typeof queryName === "string" ? queryName : undefined);
  return tidyName(stated);
}

/** A name is shown, never used as a path. Folders and control characters are cut off. */
export function tidyName(stated: string | undefined): string {
  const last = stated?.split(/[/\\]/).at(-1) ?? "";
  // Control characters and the marks that turn the direction of writing can make a name look like another.
  const shown = last.replace(/[\p{Cc}\p{Cf}\p{Cs}]/gu, "").trim();
  return shown === "" ? "document" : [...shown].slice(0, LONGEST_NAME).join("");
}

function nameIn(disposition: string | undefined): string | undefined {
  if (disposition === undefined) return undefined;
  const { filename } = parse(disposition).parameters;
  return filename === "" ? undefined : filename;
}
