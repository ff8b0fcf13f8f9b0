import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const read = (drawing: string) => recognise(drawDocument(drawing), 0);

it.each([
  ["its gauge length", "Heat | Rm MPa | Elongation % | 50 | mm\nH4471 | 612 | 43", "Elongation 43 % ?"],
  ["its unit", "Heat | Rm MPa | N | ppm\nH4471 | 612 | 0.05", "N 0.05 % ?"],
])("values under a title that was cut from %s are not relied on", (_piece, drawing, value) => {
  const certificate = read(drawing);
  expect(tell(certificate)).toEqual(["H4471: Rm 612 MPa", `H4471: ${value}`]);
  expect(certificate.doubts.map(({ code }) => code)).toContain("title-torn");
});

it("a piece between two titles may be of either", () => {
  const certificate = read("Heat | Rm MPa | 50 mm | Elongation %\nH4471 | 612 | | 43");
  expect(tell(certificate)).toEqual(["H4471: Rm 612 MPa ?", "H4471: Elongation 43 % ?"]);
});

it.each([
  ["a column of its own that holds nothing", "Heat | Rm MPa | Elongation % | Z %\nH4471 | 612 | 43"],
  ["a sign of percent", "Heat | Rm MPa | Elongation % | %\nH4471 | 612 | 43"],
  ["remarks", "Heat | Rm MPa | Elongation % | Remarks\nH4471 | 612 | 43"],
  ["a unit over values of its own", "Heat | Rm MPa | Elongation % | mm\nH4471 | 612 | 43 | 50"],
])("%s tears no title", (_beside, drawing) => {
  const certificate = read(drawing);
  expect(tell(certificate)[1]).toBe("H4471: Elongation 43 %");
  expect(certificate.doubts.map(({ code }) => code)).not.toContain("title-torn");
});
