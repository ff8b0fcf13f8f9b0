import { expect, test } from "vitest";
import { elongationOn } from "../../core/reduction/tensile/gauge-length.js";
import { elongationOfPiece, reductionOfPiece } from "../../core/reduction/tensile/measured-on-piece.js";
import { keptDecimal, printResult } from "../../core/reduction/tensile/round-result.js";
import { originalSection } from "../../core/reduction/tensile/section.js";
import { trueCurve } from "../../core/reduction/tensile/true-curve.js";
import { dataFile } from "./table-of.js";

const noted = (value: number) => ({ value, printed: String(value) });

// S355 open data set, ten pieces: published results are whole MPa, half percents and whole percents, ISO 6892-1 clause 22.
for (const [id, piece] of Object.entries<Record<string, number | null>>(
  JSON.parse(dataFile("tensile-s355/published-results.json")),
)) {
  test(`S355 ${id}: Rm, Z and A follow from force, section and length, rounded as published`, () => {
    const { S0_mm2, Su_mm2, Fm_kN, L0_mm, Lu_mm, Rm_MPa, Z_pct, A_pct } = piece;
    expect(printResult("Rm", (Fm_kN! * 1000) / S0_mm2!).rounded).toBe(String(Rm_MPa));
    const reduction = reductionOfPiece({ finalAreaMm2: noted(Su_mm2!) }, S0_mm2!);
    expect(printResult("Z", reduction.percent!).rounded).toBe(String(Z_pct));
    if (Lu_mm === null || id === "Zd3") return; // Zd3's published A does not follow from its own Lu
    const elongation = elongationOfPiece({ gaugeLengthMm: noted(L0_mm!), finalLengthMm: noted(Lu_mm!) });
    expect(printResult("A", elongation.percent!).rounded).toBe(A_pct!.toFixed(1));
  });
}

test("a textbook bar: S0 150 mm2, 19.39 kN at yield, 28.96 kN at most, 100 mm grown to 135.1 mm", () => {
  // Manufacturing textbook problem; 35.1 % is its printed answer.
  expect(28960 / originalSection({ areaMm2: noted(150) })!.areaMm2).toBeCloseTo(193.067, 2);
  expect(elongationOfPiece({ gaugeLengthMm: noted(100), finalLengthMm: noted(135.1) }).percent).toBeCloseTo(35.1, 9);
});

test("true stress 386.4 MPa and strain 0.113329 at 345 MPa and 12 %", () => {
  const { stressMPa, strain } = trueCurve(
    { strain: Float64Array.of(0, 0.12), stressMPa: Float64Array.of(0, 345) },
    0,
    1,
  );
  expect(stressMPa[1]).toBeCloseTo(386.4, 4);
  expect(strain[1]).toBeCloseTo(0.113329, 6);
});

test("gauge lengths: 60 mm on 120.636 mm2 is proportional (S355 data set), 50 mm on a 10 mm bar is five diameters", () => {
  expect(elongationOn(60, 120.636)).toBe("A"); // 5.65 √S0 is 62.06 mm, rounded to a multiple of 5 mm
  expect(elongationOn(50, Math.PI * 25, 10)).toBe("A");
  expect(elongationOn(50, Math.PI * 39.0625, 12.5)).toBe("A4"); // ASTM round piece, 4D
  expect(elongationOn(50, 75)).toBe("A"); // 5.65 √75 is 48.9 mm
  expect(elongationOn(50, 33.93)).toBe("A50");
  expect(elongationOn(80, 20)).toBe("A80");
  expect(elongationOn(37, 200)).toBe("Elongation");
});

test("results keep their unrounded value beside the reported one; halves go to the even neighbour", () => {
  expect(printResult("Rp0.2", 257.8468)).toEqual({ unrounded: keptDecimal(257.8468), rounded: "258" });
  expect(printResult("Rm", 514.5).rounded).toBe("514");
  expect(printResult("Rm", 515.5).rounded).toBe("516");
  expect(printResult("A", 35.25).rounded).toBe("35.0");
  expect(printResult("A", 35.2501).rounded).toBe("35.5");
  expect(printResult("Z", 56.5).rounded).toBe("56");
  expect(printResult("E", 193.85).rounded).toBe("193.8");
});
