import { describe, expect, it } from "vitest";
import type { Cell, Table } from "../../../core/recogniser/cells.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { tell } from "./tell.js";

/** One line a row, cells divided by "|", each as wide as said; places are left edges in points. */
function pageTable(lefts: readonly number[], drawing: readonly string[]): Table {
  const cells = drawing.flatMap((line, row) =>
    line.split("|").flatMap((part, column): Cell[] => {
      const text = part.trim();
      if (text === "") return [];
      const box = [lefts[column]!, 40 + 12 * row, 4.5 * text.length, 9] as const;
      return [{ row, column, text, confidence: 1, place: { page: 1, box } }];
    }),
  );
  return { name: "page 1", cells };
}

const read = (table: Table) => tell(recognise({ reader: "pdf", tables: [table], doubts: [] }, 0));

describe("titles set to the left, over shorter texts", () => {
  it("each keep their own unit", () => {
    const table = pageTable(
      [30, 80, 190, 300],
      [
        "Heat | Yield strength 0.2 % | Tensile strength | Elongation 50 mm",
        "No. | [ksi] | [ksi] | [%]",
        "228866 | 45.5 | 87.6 | 40",
      ],
    );
    expect(read(table)).toEqual(["228866: Rp0.2 45.5 ksi", "228866: Rm 87.6 ksi", "228866: A50 40 %"]);
  });

  it("each keep their own values, where these are words", () => {
    const table = pageTable(
      [30, 80, 150, 260],
      [
        "Heat No. | Location | Test temperature | KV (J)",
        "430991 | Weld | -196 °C | 80",
        "430992 | HAZ | -196 °C | 71",
      ],
    );
    expect(read(table)).toEqual(["430991: KV 80 J weld -196 °C", "430992: KV 71 J haz -196 °C"]);
  });
});
