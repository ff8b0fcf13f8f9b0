import { describe, expect, it } from "vitest";
import type { Cell, Table } from "../../../core/recogniser/cells.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
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

describe("titles on the lower line, beside groups of singles", () => {
  it("keep the temperature and tell the average from the singles", () => {
    const document = drawDocument(`
       |          | Energy KV [J] | <  | <  | <    | Lateral expansion [mm] | <    | <
Heat   | Temp. °C | 1             | 2  | 3  | Avg. | 1                      | 2    | 3
K71204 | -196     | 88            | 91 | 79 | 86   | 0.91                   | 0.95 | 0.84`);
    expect(tell(recognise(document, 0))).toEqual([
      "K71204: KV 88 J -196 °C",
      "K71204: KV 91 J -196 °C",
      "K71204: KV 79 J -196 °C",
      "K71204: KV 86 J -196 °C average",
      "K71204: LE 0.91 mm -196 °C",
      "K71204: LE 0.95 mm -196 °C",
      "K71204: LE 0.84 mm -196 °C",
    ]);
  });
});

describe("a heat's number and a place that were not cut apart", () => {
  it("are no heat", () => {
    const certificate = recognise(drawDocument("Heat | Piece | KV J\nK71209 Weld | 1 | 62\nK71210 | 2 | 71"), 0);
    expect(certificate.heats.map(({ heat }) => heat.value)).toEqual(["K71210", "heat not stated"]);
    expect(certificate.doubts.map(({ code }) => code)).toContain("heat-unreadable");
  });
});

it("heats of several rows in one cell are no heat", () => {
  const { tables } = drawDocument("Heat | Piece | KV J\n7K64418/7K64418/N24586 | S1 | 62");
  const cells = tables[0]!.cells.map((cell) => ({ ...cell, text: cell.text.replaceAll("/", "\n") }));
  const certificate = recognise({ reader: "pdf", tables: [{ ...tables[0]!, cells }], doubts: [] }, 0);
  expect(certificate.doubts.map(({ code }) => code)).toContain("heat-unreadable");
});

it("a place in one cell with the name of a piece leaves the results without a place that is sure", () => {
  const { tables } = drawDocument("Heat | Piece | KV J\nH4471 | HAZ/S1 | 62");
  const cells = tables[0]!.cells.map((cell) => ({ ...cell, text: cell.text.replace("/", "\n") }));
  const certificate = recognise({ reader: "pdf", tables: [{ ...tables[0]!, cells }], doubts: [] }, 0);
  expect(tell(certificate).every((line) => line.endsWith("?"))).toBe(true);
});

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

/** Lines of a page without ruling, each a list of texts with their left edges; tables of the page as lines that share columns. */
function linesOfPage(
  tables: readonly (readonly (readonly [row: number, column: number, left: number, text: string])[])[],
) {
  return tables.map(
    (cells, index): Table => ({
      name: `page 1, block ${index + 1}`,
      cells: cells.map(
        ([row, column, left, text]): Cell => ({
          row: row - cells[0]![0],
          column,
          text,
          confidence: 1,
          place: { page: 1, box: [left, 40 + 8 * row, 4.5 * text.length, 7] },
        }),
      ),
    }),
  );
}

describe("lines of titles above a table without lines", () => {
  const readPage = (tables: readonly Table[]) => recognise({ reader: "pdf", tables, doubts: [] }, 0);

  it("tell the specimens apart whose titles begin again", () => {
    const certificate = readPage(
      linesOfPage([
        [
          [0, 0, 112, "Specimen 1"],
          [0, 1, 232, "Specimen 2"],
          [1, 0, 20, "Heat"],
        ],
        [
          [2, 1, 90, "Rp0.2 [MPa]"],
          [2, 2, 150, "Rm [MPa]"],
          [2, 3, 210, "Rp0.2 [MPa]"],
          [2, 4, 270, "Rm [MPa]"],
          [3, 0, 20, "H4471"],
          [3, 1, 98, "251"],
          [3, 2, 158, "571"],
          [3, 3, 218, "262"],
          [3, 4, 278, "583"],
        ],
      ]),
    );
    expect(tell(certificate)).toEqual([
      "H4471: Rp0.2 251 MPa",
      "H4471: Rm 571 MPa",
      "H4471: Rp0.2 262 MPa",
      "H4471: Rm 583 MPa",
    ]);
    const tests = certificate.heats.flatMap(({ readings }) => readings.map(({ test }) => test));
    expect(tests[0]).toBe(tests[1]);
    expect(tests[2]).toBe(tests[3]);
    expect(tests[0]).not.toBe(tests[2]);
  });

  it("leave a heat's title, taller than the others, over its heats", () => {
    const certificate = readPage(
      linesOfPage([
        [
          [0, 0, 100, "Chemical analysis %"],
          [1, 0, 20, "Heat"],
        ],
        [
          [2, 1, 90, "C"],
          [2, 2, 150, "Mn"],
          [3, 0, 20, "H4471"],
          [3, 1, 88, "0.021"],
          [3, 2, 148, "1.42"],
        ],
      ]),
    );
    expect(tell(certificate)).toEqual(["H4471: C 0.021 %", "H4471: Mn 1.42 %"]);
    expect(certificate.doubts).toEqual([]);
  });
});
