import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

it("a label that reaches over the values under it is a field above the pairs", () => {
  const document = drawDocument(`
Heat No. | <     | N14379
C %      | 0.017 | Si %   | 0.26
P %      | 0.027 | S %    | 0.014`);
  expect(tell(recognise(document, 0)).sort()).toEqual([
    "N14379: C 0.017 %",
    "N14379: P 0.027 %",
    "N14379: S 0.014 %",
    "N14379: Si 0.26 %",
  ]);
});

it("a label as wide as those under it is the first title of its column", () => {
  const document = drawDocument(`
Heat No. | < | N14379 | N14380
C %      | < | 0.017  | 0.026
P %      | < | 0.027  | 0.014`);
  expect(tell(recognise(document, 0)).sort()).toEqual([
    "N14379: C 0.017 %",
    "N14379: P 0.027 %",
    "N14380: C 0.026 %",
    "N14380: P 0.014 %",
  ]);
});

it("a second heat among the labels has its own values", () => {
  const document = drawDocument(`
Heat | H4471
Rm   | 612 MPa
A    | 54 %
Heat | H4472
Rm   | 480 MPa
A    | 51 %`);
  expect(tell(recognise(document, 0))).toEqual([
    "H4471: Rm 612 MPa",
    "H4471: A 54 %",
    "H4472: Rm 480 MPa",
    "H4472: A 51 %",
  ]);
});

it("a heat named between the labels has the values under it", () => {
  const document = drawDocument(`
Heat No.: H4471
Rm   | 612 MPa
A    | 54 %
Heat No.: H4472
Rm   | 480 MPa
A    | 51 %`);
  expect(tell(recognise(document, 0))).toEqual([
    "H4471: Rm 612 MPa",
    "H4471: A 54 %",
    "H4472: Rm 480 MPa",
    "H4472: A 51 %",
  ]);
});
