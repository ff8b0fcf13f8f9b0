import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const read = (drawing: string) => recognise(drawDocument(drawing), 0);

it("tensile titles that begin again without a word on why are not relied on", () => {
  const certificate = read("Heat | Rp0.2 MPa | Rm MPa | Rp0.2 MPa | A %\nH4471 | 251 | 571 | 162 | 45");
  expect(tell(certificate)).toEqual([
    "H4471: Rp0.2 251 MPa ?",
    "H4471: Rm 571 MPa",
    "H4471: Rp0.2 162 MPa ?",
    "H4471: A 45 %",
  ]);
  expect(certificate.doubts.map(({ code }) => code)).toEqual(["title-repeated"]);
});

it("a line of temperatures over titles that begin again is not passed over", () => {
  const certificate = read("     | 20 °C | 300 °C\nHeat | Rm MPa | Rm MPa\nH4471 | 571 | 483");
  expect(tell(certificate).every((line) => line.endsWith("?"))).toBe(true);
  expect(certificate.doubts.map(({ code }) => code)).toContain("title-repeated");
});

it.each([
  ["specimens", "     | Specimen 1 | Specimen 2\nHeat | Rm MPa | Rm MPa\nH4471 | 571 | 583"],
  ["temperatures", "Heat | Rm MPa 20 °C | Rm MPa 300 °C\nH4471 | 571 | 483"],
  ["units", "Heat | Rm MPa | Rm ksi\nH4471 | 571 | 82.8"],
  ["rows, each with one of them", "Heat | Rm MPa | Rm MPa\nH4471 | 571 |\nH4472 | | 583"],
])("%s tell them apart", (_what, drawing) => {
  const certificate = read(drawing);
  expect(tell(certificate)).toHaveLength(2);
  expect(tell(certificate).join()).not.toContain("?");
  expect(certificate.doubts.map(({ code }) => code)).not.toContain("title-repeated");
});
