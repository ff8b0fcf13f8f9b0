import { beforeAll, describe, expect, it } from "vitest";
import type { LibraryGrade } from "../../../../core/grades/grade.js";
import type { Quantity } from "../../../../core/quantity/quantity.js";
import { copiedLimitContradictions } from "../../../../core/verdict/consistency/copied-limits.js";
import { loadLibrary } from "../../../../worker/store/grade-files.js";
import { clean304L } from "../../../support/heat.js";
import { numbered, sayings } from "./saying.js";

let grade: LibraryGrade;
beforeAll(async () => {
  const { grades } = await loadLibrary();
  grade = grades.find((entry) => entry.grade.id === "astm-a240/2007e1/s30403")!;
});

const said = (changes: Partial<Record<Quantity, string>>) =>
  sayings(copiedLimitContradictions(numbered(clean304L(changes)), [grade]));

describe("values that stand on the limits of the grade", () => {
  it.each<[string, Partial<Record<Quantity, string>>, number]>([
    ["three", { C: "0.030", Mn: "2.00", P: "0.045" }, 0],
    ["four", { C: "0.030", Mn: "2.00", P: "0.045", S: "0.030" }, 1],
    ["four, one just beside", { C: "0.030", Mn: "2.00", P: "0.045", S: "0.029" }, 0],
    ["four, one a bound", { C: "0.030", Mn: "2.00", P: "0.045", S: "<0.030" }, 0],
    ["four, one in another unit", { C: "0.030", Mn: "2.00", P: "0.045", S: "0.030 ppm" }, 0],
    ["three results of tests", { Rm: "485", "Rp0.2": "170", A50: "40" }, 1],
    ["three results, one a bound", { Rm: "485", "Rp0.2": "170", A50: ">40" }, 0],
    ["two results and a hardness", { Rm: "485", "Rp0.2": "170", HBW: "201" }, 1],
    ["two results of tests", { Rm: "485", "Rp0.2": "170", A50: "41" }, 0],
    ["three, one just beside", { Rm: "485", "Rp0.2": "171", A50: "40" }, 0],
    ["three in the other unit system", { Rm: "70 ksi", "Rp0.2": "25 ksi", A50: "40" }, 1],
    ["three elements and two tests", { C: "0.030", Mn: "2.00", P: "0.045", Rm: "485", A50: "40" }, 0],
    ["four, one in a unit that no row was printed in", { C: "0.030", Mn: "2.00", P: "0.045", S: "300 ppm" }, 0],
    ["four, one with the number of another element's limit", { C: "0.030", Mn: "2.00", P: "0.045", S: "0.045" }, 0],
    ["four in fewer digits", { C: "0.03", Mn: "2.0", P: "0.045", S: "0.03" }, 1],
  ])("%s", (_, changes, count) => {
    expect(said(changes)).toHaveLength(count);
  });
});
