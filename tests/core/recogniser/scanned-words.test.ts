import { describe, expect, it } from "vitest";
import type { Cell } from "../../../core/recogniser/cells.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { createTitleReader } from "../../../core/recogniser/title-reader.js";
import { trustInWords } from "../../../core/recogniser/trust-in-words.js";
import { drawTable } from "./draw-table.js";
import { tell } from "./tell.js";

/** A drawing as OCR would hand it over: sure of everything but the texts named. */
function scan(drawing: string, unsure: readonly string[] = []) {
  const table = drawTable(drawing);
  const cells = table.cells.map((cell) => ({ ...cell, confidence: unsure.includes(cell.text) ? 0.5 : 0.95 }));
  return recognise({ reader: "image", tables: [{ ...table, cells }], doubts: [] }, 0);
}

describe("a title that OCR was not sure of", () => {
  const cell = (text: string): Cell => ({ row: 0, column: 0, text, confidence: 0.5, place: { line: 1, column: 1 } });

  it.each([
    ["Tensile strength [MPa]", 0.9],
    ["Weld metal", 0.9],
    // A misread digit or symbol is another title, not an unknown one.
    ["Elongation A50", 0.5],
    ["Cr %", 0.5],
    ["Tensiie strength", 0.5],
  ])("%s", (text, confidence) => expect(trustInWords(cell(text), createTitleReader())).toBe(confidence));
});

describe("a number without its point", () => {
  it.each([
    ["040", "H4471: Cu 40 % ?"],
    ["33", "H4471: Cu 33 % ?"],
    ["0.40", "H4471: Cu 0.40 %"],
  ])("%s in a scan", (printed, line) => {
    expect(tell(scan(`Heat No. | Cu % | Rm MPa\nH4471 | ${printed} | 612`))[0]).toBe(line);
  });

  it("is none where the title states a factor", () => {
    expect(tell(scan("Heat No. | C % x1000 | Rm MPa\nH4471 | 021 | 612"))[0]).toBe("H4471: C 0.021 %");
  });
});

describe("impact results under a title that OCR misread", () => {
  const drawing = "Heat No. | Tcmpcr | KV J | Rm MPa\nH4471 | -320 | 84 | 612";

  it("are doubted: the title may have named their temperature", () => {
    expect(tell(scan(drawing, ["Tcmpcr"]))).toEqual(["H4471: KV 84 J ?", "H4471: Rm 612 MPa"]);
  });
});
