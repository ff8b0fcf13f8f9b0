import { layOnGrid } from "./lay-on-grid.js";
import { type Renderer, type Spot, slot } from "./rendered.js";

export const renderCsv: Renderer = async (paper, random) => {
  const delimiter = random.pick([";", "\t", ";"]);
  // A text file has no sheets: their names stand as lines of their own.
  const parts = paper.parts.flatMap((part) =>
    part.kind === "sheet"
      ? [{ kind: "text" as const, cell: { text: part.name, columns: 1, rows: 1, truths: [] } }]
      : [part],
  );
  const spots = layOnGrid({ ...paper, parts }, "");
  const lines: string[][] = [];
  for (const { row, column, cell } of spots) {
    while (lines.length < row) lines.push([]);
    lines[row - 1]![column - 1] = cell.text.includes(delimiter) ? `"${cell.text}"` : cell.text;
  }
  const text = lines.map((line) => Array.from(line, (part) => part ?? "").join(delimiter)).join("\n");
  return {
    name: "paper.csv",
    bytes: Buffer.from(text),
    spots: spots.map(({ row, column, cell, table }): Spot => ({ cell, table, area: slot("", row, column) })),
    typed: spots.map(({ row, column, cell, table }): Spot => {
      const before = Array.from(lines[row - 1]!.slice(0, column - 1), (part) => part ?? "");
      const from = before.reduce((letters, part) => letters + part.length + 1, 1);
      return { cell, table, area: slot("", row, from, 1, cell.text.length) };
    }),
  };
};
