import { describe, expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

describe("a mill's workbook", () => {
  const certificate = recognise(
    drawDocument(`
Certificate No. | TS-2041
Certificate type | EN 10204 3.1
Date | 2026-03-12
Order | T-204/17
Standard | ASTM A240/A240M-23
Grade | 304L
Product | Hot rolled plate
Thickness | 12 mm
Condition | Solution annealed

Heat No. | C | Mn | P | N
 | % | % | % | ppm
H4471 | 0.021 | 1.52 | <0.005 | 710
H4472 | 0.034 | 1.50 | 0.031 | 640

Heat No. | Rm (MPa) | Rp0.2 (MPa) | A50 (%) | HB
H4471 | 612 | 289 | 55 | 170
`),
    0,
  );

  it("gives every value to its heat", () =>
    expect(tell(certificate)).toEqual([
      "H4471: C 0.021 %",
      "H4471: Mn 1.52 %",
      "H4471: P <0.005 %",
      "H4471: N 710 ppm",
      "H4471: Rm 612 MPa",
      "H4471: Rp0.2 289 MPa",
      "H4471: A50 55 %",
      "H4471: HBW 170 HBW",
      "H4472: C 0.034 %",
      "H4472: Mn 1.50 %",
      "H4472: P 0.031 %",
      "H4472: N 640 ppm",
    ]));

  it("reads the header", () => {
    expect(certificate.type?.value).toBe("3.1");
    expect(certificate.number?.value).toBe("TS-2041");
    expect(certificate.date?.value).toBe("2026-03-12");
    expect(certificate.order?.value).toBe("T-204/17");
    for (const { claims, product } of certificate.heats) {
      expect(claims.map(({ value }) => value)).toEqual([{ standard: "ASTM A240/A240M", edition: "23", grade: "304L" }]);
      expect(product.form?.value).toBe("plate");
      expect(product.thickness?.value).toEqual({ value: { digits: 12n, places: 0 }, unit: "mm" });
      expect(product.condition?.value).toBe("solution annealed");
    }
  });

  it("has no doubts", () => expect(certificate.doubts).toEqual([]));

  it("shows where each value stood", () =>
    expect(certificate.heats[0]!.readings[0]).toMatchObject({
      printed: "0.021",
      confidence: 1,
      evidence: { document: 0, line: 13, column: 2 },
    }));
});

describe("a laboratory's impact sheet", () => {
  it("reads singles and average of a row as one test", () => {
    const certificate = recognise(
      drawDocument(`
Heat No. | Zone | Temp. (°C) | Direction | Size | KV2 1 (J) | KV2 2 (J) | KV2 3 (J) | Average (J) | LE 1 (mm) | LE 2 | LE 3
H4471 | HAZ | -196 | T | 10x7.5 | 80 | 82 | 91 | 84 | 0,90 | 0,80 | 0,71
`),
      1,
    );
    const common = "haz -196 °C transverse w7.5 mm";
    expect(tell(certificate)).toEqual([
      `H4471: KV 80 J ${common} r2`,
      `H4471: KV 82 J ${common} r2`,
      `H4471: KV 91 J ${common} r2`,
      `H4471: KV 84 J ${common} r2 average`,
      `H4471: LE 0.90 mm ${common}`,
      `H4471: LE 0.80 mm ${common}`,
      `H4471: LE 0.71 mm ${common}`,
    ]);
    expect(new Set(certificate.heats[0]!.readings.map(({ test }) => test)).size).toBe(1);
  });

  it("puts pieces in rows together by place, temperature and direction", () => {
    const certificate = recognise(
      drawDocument(`
Heat No. | Specimen | Zone | Temperature °C | KV (J)
H4471 | W1 | weld metal | -196 | 60
H4471 | W2 | weld metal | -196 | 62
H4471 | F1 | FL+1 | -196 | 40
H4471 | F2 | FL+1 | -196 | 41
H4471 | G1 | FL+5 | -196 | 80
`),
      0,
    );
    const tests = certificate.heats[0]!.readings.map(({ test }) => test);
    expect(tests[0]).toBe(tests[1]);
    expect(tests[2]).toBe(tests[3]);
    expect(new Set(tests).size).toBe(3);
  });
});

describe("one heat for the page", () => {
  it.each([
    ["elements down", "Heat No. | H77\n\nC [%] | 0,021\nMn [%] | 1,50\nRm [N/mm²] | 601"],
    ["elements across", "Heat No.: H77\n\nC % | Mn % | Rm N/mm²\n0,021 | 1,50 | 601"],
    [
      "property, limits, result, unit",
      "Heat | H77\nProperty | Min | Max | Result | Unit\nC | | 0,030 | 0,021 | %\nMn | | 2,00 | 1,50 | %\nRm | 485 | | 601 | N/mm2",
    ],
  ])("%s", (_, drawing) =>
    expect(tell(recognise(drawDocument(drawing), 0))).toEqual([
      "H77: C 0.021 %",
      "H77: Mn 1.50 %",
      "H77: Rm 601 N/mm2",
    ]),
  );
});
