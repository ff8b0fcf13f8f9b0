import { describe, expect, it } from "vitest";
import type { Cell, Table } from "../../../core/recogniser/cells.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { tell } from "./tell.js";

/** A table whose columns begin at the given places of its page; one line a row, cells divided by "|". */
function pageTable(page: number, lefts: readonly number[], drawing: readonly string[]): Table {
  const cells = drawing.flatMap((line, row) =>
    line.split("|").flatMap((part, column): Cell[] => {
      const text = part.trim();
      if (text === "") return [];
      return [{ row, column, text, confidence: 1, place: { page, box: [lefts[column]!, 40 + 12 * row, 30, 9] } }];
    }),
  );
  return { name: `page ${page}`, cells };
}

const COLUMNS = [30, 80, 130, 180];
const FIRST = pageTable(1, COLUMNS, ["Heat | C % | Mn % | Rm MPa", "H4471 | 0.021 | 1.52 | 612"]);

const read = (...tables: readonly Table[]) => recognise({ reader: "pdf", tables, doubts: [] }, 0);

describe("a table that goes on over the page", () => {
  it("without its titles is read on under them", () => {
    const next = pageTable(2, COLUMNS, ["H4472 | 0.034 | 1.60 | 598", "H4473 | 0.028 | 1.48 | 601"]);
    expect(tell(read(FIRST, next)).slice(3)).toEqual([
      "H4472: C 0.034 %",
      "H4472: Mn 1.60 %",
      "H4472: Rm 598 MPa",
      "H4473: C 0.028 %",
      "H4473: Mn 1.48 %",
      "H4473: Rm 601 MPa",
    ]);
  });

  it("with other columns is not", () => {
    const next = pageTable(2, [30, 60, 90, 120], ["H4472 | 0.034 | 1.60 | 598"]);
    const certificate = read(FIRST, next);
    expect(tell(certificate)).toHaveLength(3);
    expect(certificate.doubts.map(({ code }) => code)).toEqual(["numbers-unread"]);
  });

  it("is not sought two pages on", () => {
    expect(tell(read(FIRST, pageTable(3, COLUMNS, ["H4472 | 0.034 | 1.60 | 598"])))).toHaveLength(3);
  });

  it("with titles of its own keeps to these", () => {
    const next = pageTable(2, COLUMNS, ["Heat | Mn % | C % | Rm MPa", "H4472 | 1.60 | 0.034 | 598"]);
    expect(tell(read(FIRST, next)).slice(3)).toEqual(["H4472: Mn 1.60 %", "H4472: C 0.034 %", "H4472: Rm 598 MPa"]);
  });
});
