import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const read = (units: string) =>
  recognise(drawDocument(`Heat | Mo | Si | Mn\n${units}\nH4471 | 8 | 0.86 | 1.74\nH4472 | 2.1 | 0.71 | 1.2`), 0);

it("values under factors that could not be cut into columns are not relied on", () => {
  const certificate = read(" | x100 x1000 | < | <");
  expect(tell(certificate).every((line) => line.endsWith("?"))).toBe(true);
  expect(certificate.doubts.map(({ code }) => code)).toContain("units-unsplit");
});

it("a remark over several columns takes nothing from them", () => {
  const certificate = read(" | solution annealed at 1050 °C | < | <");
  expect(tell(certificate)[0]).toBe("H4471: Mo 8 %");
});
