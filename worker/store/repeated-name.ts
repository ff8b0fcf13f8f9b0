/** What to do about one, for whoever wrote the text. */
export const REPEATED = "stands there twice; leave one out";

/**
 * The JSON path of a name that stands twice in one object, of text that is JSON; undefined where there is none. `JSON.parse` would take
 * the last and drop the first without a word, and the two may be different limits.
 */
export function repeatedName(json: string): readonly string[] | undefined {
  const open: { readonly names: Set<string> | undefined; at: string; items: number }[] = [];
  for (const [token] of json.matchAll(/"(?:[^"\\]|\\.)*"(?:\s*:)?|[{}[\],]/g)) {
    const within = open.at(-1);
    if (token === "{" || token === "[") open.push({ names: token === "{" ? new Set() : undefined, at: "0", items: 0 });
    else if (token === "}" || token === "]") open.pop();
    else if (token === "," && within && !within.names) within.at = String(++within.items);
    else if (token.endsWith(":") && within?.names) {
      within.at = JSON.parse(token.slice(0, token.lastIndexOf('"') + 1)) as string;
      if (within.names.has(within.at)) return open.map(({ at }) => at);
      within.names.add(within.at);
    }
  }
  return undefined;
}
