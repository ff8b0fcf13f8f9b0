import { expect, it } from "vitest";
import { gradesSatisfied } from "../../../core/verdict/grades-satisfied.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { clean304L, heatOf, statement } from "../../support/heat.js";

it("finds what a heat meets, misses and cannot decide", async () => {
  const library = await loadLibrary();
  const product = {
    form: statement("plate"),
    thickness: statement({ value: { digits: 12n, places: 0 }, unit: "mm" as const }),
  };
  const answers = gradesSatisfied(heatOf(clean304L({ Rm: "560" }), { product }), null, library);
  const answer = (id: string) => answers.find(({ grade }) => grade.grade.id === id)!;

  expect(answer("astm-a240/2007e1/s30403").outcome).toBe("pass");
  expect(answer("astm-a240/2007e1/s30400").outcome).toBe("pass");
  const molybdenum = answer("astm-a240/undated/s31603");
  expect(molybdenum.outcome).toBe("fail"); // nickel is too low for 316L, molybdenum is not even reported
  expect(molybdenum.open.map(({ quantity, outcome }) => `${quantity} ${outcome}`)).toEqual(
    expect.arrayContaining(["Ni fail", "Mo undetermined"]),
  );
  expect(answers).toHaveLength(library.grades.length);
});
