import { expect, test } from "vitest";
import type { Evidence } from "../../../core/certificate/evidence.js";
import { placesText } from "../../../core/report/place-text.js";
import { exampleReport } from "./example-report.js";

const cell = (name: string, sheet = "HAZ", document = 0): Evidence => ({ document, sheet, cell: name });

test.each<[string, readonly Evidence[], string]>([
  ["one cell", [cell("C7")], "norrvik-88213.xlsx, sheet HAZ, cell C7"],
  ["cells of one sheet", [cell("C7"), cell("C8"), cell("C9")], "norrvik-88213.xlsx, sheet HAZ, cells C7, C8, C9"],
  [
    "two sheets",
    [cell("C7"), cell("B2", "Weld"), cell("C8")],
    "norrvik-88213.xlsx, sheet HAZ, cells C7, C8; norrvik-88213.xlsx, sheet Weld, cell B2",
  ],
  [
    "two documents",
    [cell("C7"), { document: 1, line: 3, column: 2 }],
    "norrvik-88213.xlsx, sheet HAZ, cell C7; calder-cvn-0311.csv, line 3, column 2",
  ],
  [
    "columns of one line",
    [2, 3, 4].map((column) => ({ document: 1, line: 3, column })),
    "calder-cvn-0311.csv, line 3, columns 2, 3, 4",
  ],
  [
    "one page",
    [
      { document: 0, page: 2, box: [1, 2, 3, 4] },
      { document: 0, page: 2, box: [5, 6, 7, 8] },
    ],
    "norrvik-88213.xlsx, page 2",
  ],
  ["a pointer", [{ document: 0, pointer: "/heats/0/heat" }], "norrvik-88213.xlsx, /heats/0/heat"],
  ["a document that is not listed", [cell("C7", "HAZ", 9)], "document 10, sheet HAZ, cell C7"],
])("%s", (_, evidences, text) => {
  expect(placesText(evidences, exampleReport)).toBe(text);
});
