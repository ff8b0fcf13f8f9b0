import { expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

it("a heat named after the last values heads the next table, with or without an empty line before it", () => {
  for (const gap of ["", "\n"]) {
    const document = drawDocument(`
Heat No.: H4471
Specimen | Rm MPa | A %
T1       | 612    | 54
${gap}Heat No.: H4472
Specimen | Rm MPa | A %
T1       | 480    | 51`);
    expect(tell(recognise(document, 0))).toEqual([
      "H4471: Rm 612 MPa",
      "H4471: A 54 %",
      "H4472: Rm 480 MPa",
      "H4472: A 51 %",
    ]);
  }
});

it("a temperature's title does not reach over numbered singles beside it", () => {
  const document = drawDocument(`
Heat  | Temperature °C |     |    |    | KV J
      |                | 1   | 2  | 3  | Average
H4471 | -196           | 100 | 90 | 80 | 90`);
  const temperatures = recognise(document, 0).heats.flatMap(({ readings }) => readings.map((one) => one.temperature));
  for (const temperature of temperatures) expect(temperature?.value).toEqual({ digits: -196n, places: 0 });
  expect(temperatures.length).toBeGreaterThan(0);
});

it("specimens in groups of columns are tests of their own; so are numbered tests beside properties", () => {
  const across = drawDocument(`
Heat  | Specimen 1 | <   | Specimen 2 | <
      | Rm MPa     | A % | Rm MPa     | A %
H4471 | 612        | 54  | 598        | 51`);
  const down = drawDocument(`
Heat No.: H4471
Property | Unit | Min | Test 1 | Test 2
Rm       | MPa  | 485 | 612    | 598
A        | %    | 40  | 54     | 51`);
  for (const document of [across, down]) {
    const readings = recognise(document, 0).heats.flatMap((heat) => heat.readings);
    const tests = [...new Set(readings.map(({ test }) => test))];
    const printed = tests.map((name) => readings.flatMap((one) => (one.test === name ? [one.printed] : [])).sort());
    expect(printed).toEqual([
      ["54", "612"],
      ["51", "598"],
    ]);
  }
});

it("a column in degrees that is not understood leaves the impact values of its rows in doubt", () => {
  const document = drawDocument(`
Heat  | Tempzz °C | KV 1 J | KV 2 J
H4471 | -196      | 112    | 108`);
  const [heat] = recognise(document, 0).heats;
  for (const { confidence } of heat!.readings) expect(confidence).toBeLessThan(0.85);
});

it("titles broken into lines and titles with a footnote's sign are understood", () => {
  const document = drawDocument(
    "Heat | Rm *) MPa | Mo ²) %\nH4471 | 612 | 2.1".replace(" *) MPa", " MPa *)").replace(" ²) %", " % ²)"),
  );
  expect(tell(recognise(document, 0))).toEqual(["H4471: Rm 612 MPa", "H4471: Mo 2.1 %"]);
});
