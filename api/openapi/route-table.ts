import type { openapiDocument } from "./document.js";

interface Operation {
  readonly summary?: string;
  readonly security?: readonly { readonly key?: readonly string[] }[];
}

/** Every operation in a line: method, path, the scope that its key needs, and what it is for. As a table in Markdown. */
export function routeTable({ paths = {} }: ReturnType<typeof openapiDocument>): string {
  const rows = Object.entries(paths).flatMap(([path, item]) =>
    Object.entries(item as Record<string, Operation>).map(([method, { summary = "", security }]) => [
      method.toUpperCase(),
      `\`${path}\``,
      security?.[0]?.key?.[0] ?? "no key",
      summary,
    ]),
  );
  const lines = [["method", "path", "scope", "for"], ["---", "---", "---", "---"], ...rows];
  return lines.map((cells) => `| ${cells.join(" | ")} |`).join("\n");
}
