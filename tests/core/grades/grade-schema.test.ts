import { describe, expect, it } from "vitest";
import { confirmationsSchema } from "../../../core/grades/confirmation.js";
import { gradeSchema, toleranceTableSchema } from "../../../core/grades/grade.js";

const LIMIT = {
  id: "Ti",
  quantity: "Ti",
  analysis: "product",
  unit: "%",
  minFrom: { times: "5", of: ["C", "N"], plus: "0.15" },
  max: "0.70",
  when: { form: ["plate", "sheet"], thickness: { over: "6", upTo: "50" }, condition: ["annealed"], zone: "weld" },
  rounding: "absolute",
  source: { clause: "Table 1", note: "our own words" },
  known: { how: "seen", sources: 2, from: ["a"], confirmed: { by: "N. Brandt", on: "2026-11-20", document: "copy 3" } },
};
const GRADE = {
  id: "ours/2020/x",
  standard: "Tarnholm 12",
  edition: { name: "2020", from: 2020, superseded: true },
  name: "X 12",
  designations: ["X", "X 12"],
  forms: ["plate", "sheet"],
  rounding: "rounding method",
  limits: [LIMIT],
};
const grade = (change: object) => gradeSchema.safeParse({ ...GRADE, ...change }).success;
const limit = (change: object) => grade({ limits: [{ ...LIMIT, ...change }] });

describe("a grade file", () => {
  it.each([
    [{}, true],
    [{ rounding: "absolute" }, true],
    [{ rounding: "nearest" }, false],
    [{ id: "ours/2020" }, false],
    [{ id: "ours/2020/x y" }, false],
    [{ id: " ours/2020/xy" }, false],
    [{ id: "ours/2020/30403" }, true],
    [{ standard: "" }, false],
    [{ name: "" }, false],
    [{ designations: [] }, false],
    [{ forms: [] }, false],
    [{ edition: { name: "2020", superseded: false } }, false],
    [{ surprise: 1 }, false],
  ])("with %j is accepted: %s", (change, accepted) => expect(grade(change)).toBe(accepted));

  it.each([
    [{ analysis: "heat" }, true],
    [{ analysis: "ladle" }, false],
    [{ max: "0,70" }, false],
    [{ max: 0.7 }, false],
    [{ unit: "parts" }, false],
    [{ unit: 1 }, false],
    [{ minFrom: { times: "5", of: [] } }, false],
    [{ minFrom: { times: "5", of: ["Xx"] } }, false],
    [{ minFrom: { times: "5", of: ["C"], of2: 1 } }, false],
    [{ tradeOff: { element: "C", below: "0.30", step: "0.01", raises: "0.06", ceiling: "1.35" } }, true],
    [{ tradeOff: { element: "C", below: "0.30", step: "0.01", raises: "0.06" } }, false],
    [{ when: { orientation: "longitudinal" } }, true],
    [{ when: { orientation: "transverse" } }, true],
    [{ when: { orientation: "through-thickness" } }, true],
    [{ when: { orientation: "sideways" } }, false],
    [{ when: { zone: "base" } }, true],
    [{ when: { zone: "haz" } }, true],
    [{ when: { zone: "root" } }, false],
    [{ when: { thickness: { over: "thin" } } }, false],
    [{ when: { width: "12" } }, false],
    [{ minFrom: undefined, max: undefined, reportOnly: true }, true],
    [{ reportOnly: false }, false],
    [{ onlyIfTested: true }, true],
    [{ onlyIfTested: false }, false],
    [{ rounding: "rounding method" }, true],
    [{ rounding: "nearest" }, false],
    [{ source: { clause: "" } }, false],
    [{ known: { how: "memory", sources: 0 } }, true],
    [{ known: { how: "sister", sources: 1 } }, true],
    [{ known: { how: "user", sources: 1 } }, true],
    [{ known: { how: "rumour", sources: 1 } }, false],
    [{ known: { how: "seen", sources: -1 } }, false],
    [{ known: { how: "user", sources: 1, confirmed: { by: "N. Brandt" } } }, false],
  ])("with a limit with %j is accepted: %s", (change, accepted) => expect(limit(change)).toBe(accepted));

  it("says in words what is wrong with a number", () => {
    const found = gradeSchema.safeParse({ ...GRADE, limits: [{ ...LIMIT, max: "0,70" }] });
    expect(found.error?.issues[0]?.message).toBe("not a decimal number");
  });
});

describe("a tolerance table", () => {
  const row = { element: "C", limit: { upTo: "0.030" }, overMax: "0.005", known: { how: "seen", sources: 1 } };
  const table = (change: object) =>
    toleranceTableSchema.safeParse({ id: "t", standard: "X2", edition: "2020", rows: [{ ...row, ...change }] }).success;
  it.each([
    [{}, true],
    [{ element: "Xx" }, false],
    [{ overMax: "a little" }, false],
    [{ underMin: "0.005" }, true],
    [{ note: 1 }, false],
  ])("with %j is accepted: %s", (change, accepted) => expect(table(change)).toBe(accepted));
});

describe("a file of confirmations", () => {
  const CONFIRMED = {
    limit: "ours/2020/x#Ti",
    value: "Ti max 0.70 %",
    by: "N. Brandt",
    on: "2026-11-20",
    document: "copy 3",
  };
  const confirmation = (change: object) =>
    confirmationsSchema.safeParse({ confirmations: 1, limits: [{ ...CONFIRMED, ...change }] }).success;
  it.each([
    [{}, true],
    [{ limit: "ours/2020/x" }, false],
    [{ limit: "ours/2020/x#" }, false],
    [{ limit: "#Ti" }, false],
    [{ limit: "our own#Ti" }, false],
    [{ limit: "ours/2020/x#T i" }, false],
    [{ value: "" }, false],
    [{ by: " " }, false],
    [{ on: "yesterday" }, false],
    [{ document: " " }, false],
    [{ surprise: 1 }, false],
  ])("with %j is accepted: %s", (change, accepted) => expect(confirmation(change)).toBe(accepted));
});
