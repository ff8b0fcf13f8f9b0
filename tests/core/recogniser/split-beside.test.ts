import { expect, test } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

test("of two tables side by side each has its own heats, and no temperature of the other", () => {
  const read = recognise(
    drawDocument(
      [
        "Heat | Rm MPa | A % | | Heat | Temperature °C | KV 1 J | KV 2 J | KV 3 J",
        "H4471 | 590 | 52 | | H4472 | -196 | 88 | 91 | 95",
        "H4472 | 601 | 50 | | H4471 | -196 | 40 | 42 | 44",
      ].join("\n"),
    ),
    0,
  );
  expect(tell(read)).toEqual([
    "H4471: Rm 590 MPa",
    "H4471: A 52 %",
    "H4471: KV 40 J -196 °C",
    "H4471: KV 42 J -196 °C",
    "H4471: KV 44 J -196 °C",
    "H4472: Rm 601 MPa",
    "H4472: A 50 %",
    "H4472: KV 88 J -196 °C",
    "H4472: KV 91 J -196 °C",
    "H4472: KV 95 J -196 °C",
  ]);
});

test("lists side by side are each of the heat that stands over them", () => {
  const read = recognise(
    drawDocument(
      [
        "Heat | H4471 | | | Heat | H4472 |",
        "Element | max | Actual | | Element | max | Actual",
        "C % | 0.030 | 0.021 | | C % | 0.030 | 0.034",
        "Cr % | 19.5 | 18.1 | | Cr % | 19.5 | 18.3",
      ].join("\n"),
    ),
    0,
  );
  expect(tell(read)).toEqual(["H4471: C 0.021 %", "H4471: Cr 18.1 %", "H4472: C 0.034 %", "H4472: Cr 18.3 %"]);
});

test("names that slipped off the first of their columns name none for sure", () => {
  const { heats } = recognise(
    drawDocument(
      [
        "Heat | | H4471 | | H4472",
        "Element | Ladle | Product | Ladle | Product",
        "C % | 0.021 | 0.022 | 0.034 | 0.035",
        "Cr % | 18.1 | 18.2 | 18.3 | 18.4",
      ].join("\n"),
    ),
    0,
  );
  const read = heats.flatMap(({ readings }) => readings.filter(({ confidence }) => confidence >= 0.85));
  expect(read.map(({ printed }) => printed)).not.toContain("0.034");
});

test("heats that reach over their ladle and product columns keep both, also where no cells are merged", () => {
  const read = recognise(
    drawDocument(
      [
        "Heat | H4471 | | H4472 | ",
        "Element | Ladle | Product | Ladle | Product",
        "C % | 0.021 | 0.022 | 0.034 | 0.035",
        "Cr % | 18.1 | 18.2 | 18.3 | 18.4",
      ].join("\n"),
    ),
    0,
  );
  expect(tell(read).filter((line) => line.includes(" C "))).toEqual([
    "H4471: C 0.021 % heat",
    "H4471: C 0.022 % product",
    "H4472: C 0.034 % heat",
    "H4472: C 0.035 % product",
  ]);
});
