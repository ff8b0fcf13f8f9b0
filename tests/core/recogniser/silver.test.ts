import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const read = (drawing: string) => recognise(drawDocument(drawing), 0);

it.each([
  "Heat | C % | Ag % | Mn %\nH4471 | 0.021 | 0.002 | 1.5",
  "Heat | C | Mn | Ag\nH4471 | 0.021 | 1.5 | 0.002",
  "Heat | Chemical composition % | < | < | Rm MPa\n^ | C | Mn | Ag | ^\nH4471 | 0.021 | 1.5 | 0.002 | 612",
])("Ag among elements is silver, which is not read: %j", (drawing) => {
  const certificate = read(drawing);
  expect(tell(certificate).join()).not.toContain("Ag");
  expect(certificate.doubts).toEqual([]);
});

it("Ag among tensile results is the uniform elongation, in per cent also where no unit is printed", () => {
  expect(tell(read("Heat | Rm MPa | Ag | A %\nH4471 | 612 | 38 | 54"))).toContain("H4471: Ag 38 %");
});

it("Ag between elements and tensile results is a doubt", () => {
  const certificate = read("Heat | C % | Mn % | Ag % | Rm MPa\nH4471 | 0.021 | 1.5 | 0.002 | 612");
  expect(tell(certificate).join()).not.toContain("Ag");
  expect(certificate.doubts.map(({ code }) => code)).toEqual(["column-unknown"]);
});
