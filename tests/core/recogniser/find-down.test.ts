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

it("KV, LE, KV, LE are the pieces of one set", () => {
  const document = drawDocument(`
Heat No.: H4471
KV at -196 °C | 88 J
LE            | 1.1 mm
KV at -196 °C | 91 J
LE            | 1.2 mm
KV at -196 °C | 40 J
LE            | 0.7 mm`);
  const [heat, ...others] = recognise(document, 0).heats;
  expect(others).toEqual([]);
  expect(heat!.readings).toHaveLength(6);
  const energies = heat!.readings.filter(({ quantity }) => quantity === "KV");
  expect(new Set(energies.map(({ test }) => test)).size).toBe(1);
});

it("a second temperature among the labels is that of the values under it, and not of those above", () => {
  const document = drawDocument(`
Heat        | H4471
Temperature | -196 °C
Zone        | weld
KV          | 88 J
Temperature | -50 °C
Zone        | base
KV          | 91 J
LE          | 1.2 mm`);
  expect(tell(recognise(document, 0))).toEqual([
    "H4471: KV 88 J weld -196 °C",
    "H4471: KV 91 J base -50 °C",
    "H4471: LE 1.2 mm base -50 °C",
  ]);
});
