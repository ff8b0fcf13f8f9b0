import { beforeAll, describe, expect, it } from "vitest";
import type { Reading } from "../../../core/certificate/certificate.js";
import type { Library } from "../../../core/grades/grade.js";
import { reportFinding } from "../../../core/report/report-finding.js";
import { type ProjectLimit, requirementSchema } from "../../../core/requirement/requirement.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { clean304L, heatOf, reading } from "../../support/heat.js";

let library: Library;
beforeAll(async () => {
  library = await loadLibrary();
});

function judgeLimits(limit: ProjectLimit, readings: readonly Reading[]) {
  const requirement = requirementSchema.parse({ requirement: 1, name: "T-204 weld metal", limits: [limit] });
  const { judgements } = judgeHeat({ heat: heatOf(readings), certificates: [], doubts: [], requirement, library });
  return judgements.map(reportFinding).filter(({ limit: held }) => held?.id === "requirement#limits/0");
}

function judgeLimit(limit: ProjectLimit, readings: readonly Reading[]) {
  return judgeLimits(limit, readings)[0]!;
}

describe("limits on computed indices", () => {
  // PREN (16 N) of the clean heat: 18.21 + 3.3 x 0.30 + 16 x 0.062 = 20.192.
  const withMolybdenum = [...clean304L(), reading("Mo", "0.30")];
  it.each([
    ["20.192", "pass"],
    ["20.193", "fail"],
  ])("holds PREN 20.192 against a minimum of %s: %s", (min, outcome) => {
    const finding = judgeLimit({ quantity: "PREN", min, unit: "1" }, withMolybdenum);
    expect([finding.outcome, finding.judged]).toEqual([outcome, "20.192"]);
    expect(finding.notes?.[0]).toContain("PREN (16 N)");
  });

  it("names the element that is missing instead of taking it for zero", () => {
    const finding = judgeLimit({ quantity: "CE", max: "0.43", unit: "1" }, [
      reading("C", "0.18"),
      reading("Si", "0.3"),
    ]);
    expect([finding.outcome, finding.reason]).toEqual(["undetermined", "not-reported"]);
    expect(finding.message).toMatch(/Mn.* not reported/);
  });

  // CE without vanadium: 0.18 + 1.50/6 + (0.05 + 0.01)/5 + (0.04 + 0.05)/15 = 0.448.
  const noVanadium = ["C 0.18", "Mn 1.50", "Cr 0.05", "Mo 0.01", "Ni 0.04", "Cu 0.05"].map((text) =>
    reading(text.split(" ")[0] as "C", text.split(" ")[1]!),
  );
  it.each([
    [{ max: "0.447" }, "fail"],
    [{ max: "0.448" }, "not-reported"],
    [{ max: "0.50" }, "not-reported"],
    [{ min: "0.448" }, "pass"],
    [{ min: "0.449" }, "not-reported"],
    [{ min: "0.40", max: "0.447" }, "fail"],
  ])(
    "decides CE of 0.448 or more, vanadium not reported, only where vanadium does not matter: %j, %s",
    (bounds, is) => {
      const { outcome, reason } = judgeLimit({ quantity: "CE", unit: "1", ...bounds }, noVanadium);
      expect(reason ?? outcome).toBe(is);
    },
  );

  // Md30 (Angel) without carbon and nitrogen: 413 - 9.2 x 0.41 - 8.1 x 1.62 - 13.7 x 18.21 - 9.5 x 8.12 = 69.5 °C, which both only lower.
  it.each([
    [{ min: "70" }, "fail"],
    [{ min: "69" }, "not-reported"],
    [{ max: "70" }, "pass"],
    [{ max: "69" }, "not-reported"],
  ])("decides an Md30 that what is missing can only lower: %j, %s", (bounds, is) => {
    const readings = clean304L({ C: null, N: null, Mo: "0" });
    const { outcome, reason } = judgeLimit(
      { quantity: "Md30", unit: "°C", formula: "Md30 (Angel)", ...bounds },
      readings,
    );
    expect(reason ?? outcome).toBe(is);
  });

  it("says that a value is an end and what is missing", () => {
    const finding = judgeLimit({ quantity: "CE", max: "0.43", unit: "1" }, noVanadium);
    expect(finding.message).toBe(
      "Carbon equivalent CE of at least 0.448 is above the 0.43 maximum of T-204 weld metal, by 0.018 or more.",
    );
    expect(finding.notes?.[0]).toBe("V not reported: whatever it is, surely 0.448 or more.");
  });

  it("does not decide by a constant alone, nor by what was not read with certainty", () => {
    const md30: ProjectLimit = { quantity: "Md30", min: "500", unit: "°C", formula: "Md30 (Angel)" };
    expect(judgeLimit(md30, [reading("Rm", "600", { unit: "MPa" })]).reason).toBe("not-reported");
    const unsure = noVanadium.map((one) => ({ ...one, confidence: 0.5 }));
    expect(judgeLimit({ quantity: "CE", max: "0.43", unit: "1" }, unsure).reason).toBe("not-reported");
  });

  it("computes from every complete analysis where the limit names none, and from the one it names", () => {
    // PREN (16 N) 20.192 in the heat analysis, 20.182 and 20.212 in the product analyses.
    const product = (text: string) => {
      const [quantity, value] = text.split(" ");
      return reading(quantity as "C", value!, { analysis: "product" });
    };
    const checks = ["Cr 18.20", "Mo 0.30", "N 0.062", "Cr 18.23"].map(product);
    const outcomesAt = (min: string, analysis?: "heat" | "product") =>
      judgeLimits({ quantity: "PREN", min, unit: "1", ...(analysis && { analysis }) }, [
        ...withMolybdenum,
        ...checks,
      ]).map(({ outcome, reason }) => reason ?? outcome);
    expect(outcomesAt("20.182")).toEqual(["pass", "pass"]);
    expect(outcomesAt("20.183")).toEqual(["pass", "bound-not-decisive"]);
    expect(outcomesAt("20.213")).toEqual(["fail", "fail"]);
    expect(outcomesAt("20.193", "heat")).toEqual(["fail"]);
    expect(outcomesAt("20.193", "product")).toEqual(["bound-not-decisive"]);
  });

  it("holds a grain size as it was read", () => {
    const sized = [...clean304L(), reading("G", "6.5")];
    expect(judgeLimit({ quantity: "G", min: "6.5", unit: "1" }, sized).outcome).toBe("pass");
    expect(judgeLimit({ quantity: "G", min: "7.0", unit: "1" }, sized).outcome).toBe("fail");
    expect(judgeLimit({ quantity: "G", min: "4", unit: "1" }, clean304L()).reason).toBe("not-reported");
  });

  // Md30 (Nohara, G 8) of this heat is 551 - 462 x 0.083 - 9.2 x 0.41 - 8.1 x 1.62 - 13.7 x 18.21 - 29 x 8.42 - 18.5 x 0.30 - 68 x 0.010
  // = -4.127 °C, which is 269.023 K and 24.57 °F.
  it.each([
    ["269", "K", "fail"],
    ["270", "K", "pass"],
    ["24", "°F", "fail"],
    ["25", "°F", "pass"],
  ] as const)("holds a temperature in the unit of its limit: at most %s %s, %s", (max, unit, outcome) => {
    const readings = clean304L({ Mo: "0.30", Cu: "0.30", Nb: "0.010" });
    const limit = { quantity: "Md30", formula: "Md30 (Nohara, G 8)", max, unit } as const;
    expect(judgeLimit(limit, readings)).toMatchObject({ outcome, unit });
  });

  it("leaves a Ferrite Number near its limit undetermined, and decides one that is far", () => {
    const weld = [
      "C 0.025",
      "Si 0.45",
      "Mn 1.7",
      "Cr 19.8",
      "Ni 10.0",
      "Mo 0.1",
      "N 0.05",
      "Cu 0.1",
      "Nb 0.01",
      "Ti 0.01",
      "P 0.02",
      "S 0.01",
      "V 0.05",
      "Co 0.05",
    ];
    const readings = weld.map((text) => reading(text.split(" ")[0] as "C", text.split(" ")[1]!));
    const at = (limit: Partial<ProjectLimit>) =>
      judgeLimit({ quantity: "FN", unit: "1", ...limit } as ProjectLimit, readings);
    const value = Number(at({ min: "0" }).judged);
    expect(at({ max: (value + 0.5).toFixed(1) }).reason).toBe("bound-not-decisive");
    expect(at({ max: "60" }).outcome).toBe("pass");
    expect(at({ max: "60" }).message).toMatch(
      /^Ferrite Number of at most [\d.]+ is within the 60 maximum of .* or more to spare[.]$/,
    );
    expect(at({ max: "1" }).message).toMatch(
      /^Ferrite Number of at least [\d.]+ is above the 1 maximum of .* or more[.]$/,
    );
    expect(at({ min: "1" }).message).toMatch(/^Ferrite Number of at least [\d.]+ meets the 1 minimum of /);
    expect(at({ min: "60" }).message).toMatch(/^Ferrite Number of at most [\d.]+ is below the 60 minimum of /);
    expect(at({ max: (value + 0.5).toFixed(1) }).message).toMatch(/^Ferrite Number lies between/);
  });

  it("lets a measured Ferrite Number go before a computed one", () => {
    expect(
      judgeLimit({ quantity: "FN", min: "4", max: "10", unit: "1" }, [...clean304L(), reading("FN", "6.2")]).outcome,
    ).toBe("pass");
    expect(
      judgeLimit({ quantity: "FN", min: "4", max: "10", unit: "1" }, [...clean304L(), reading("FN", "11")]).outcome,
    ).toBe("fail");
  });
});

describe("a measured Ferrite Number", () => {
  it("answers for the weld where no zone is stated, and says so", () => {
    const weld: ProjectLimit = { quantity: "FN", min: "4", max: "10", unit: "1", zone: "weld" };
    const [unstated, base] = [reading("FN", "6.2"), reading("FN", "6.2", { zone: "base" })];
    expect(judgeLimit(weld, [...clean304L(), unstated])).toMatchObject({
      outcome: "pass",
      notes: [expect.stringContaining("taken as weld metal")],
    });
    expect(judgeLimit(weld, [...clean304L(), base]).outcome).toBe("undetermined");
  });
});

describe("a stated index of a steel with little carbon", () => {
  it("is not explained by a formula for steels with more, whose boron was not reported", () => {
    const steel = ["C 0.17", "Si 0.3", "Mn 1.40", "Cu 0.10", "Cr 0.05", "Ni 0.05", "Mo 0.01", "V 0.01", "Nb 0.02"].map(
      (text) => reading(text.split(" ")[0] as "C", text.split(" ")[1]!),
    );
    const isContradicted = (text: string) =>
      judgeHeat({
        heat: heatOf([...steel, reading("CE", text)], { claims: [] }),
        certificates: [],
        doubts: [],
        requirement: null,
        library,
      }).judgements.some(({ reason }) => reason === "contradiction");
    expect(isContradicted("0.43")).toBe(false); // CE (IIW) 0.4273
    expect(isContradicted("0.47")).toBe(true);
  });
});

describe("a stated index whose formula lacks an element", () => {
  const steel = ["C 0.18", "Mn 1.20", "Cr 0.05", "Mo 0.01", "Ni 0.04", "Cu 0.06"].map((text) =>
    reading(text.split(" ")[0] as "C", text.split(" ")[1]!),
  );
  const said = (text: string) =>
    judgeHeat({
      heat: heatOf([...steel, reading("CE", text)], { claims: [] }),
      certificates: [],
      doubts: [],
      requirement: null,
      library,
    })
      .judgements.filter(({ reason }) => reason === "contradiction")
      .map((judgement) => reportFinding(judgement).message);

  // Without vanadium 0.18 + 1.20/6 + 0.06/5 + 0.10/15 = 0.39867; rounding of the operands hides 0.00817, cutting off 0.01.
  it("may be as high as it likes, and not below what the others give", () => {
    expect(said("0.60")).toEqual([]);
    expect(said("0.39")).toEqual([]);
    expect(said("0.37")).toEqual([
      expect.stringMatching(/CE 0[.]37 does not follow from the elements, which give 0[.]39\d or more/),
    ]);
  });
});

describe("a stated index", () => {
  const carbonSteel = ["C 0.18", "Mn 1.20", "Cr 0.05", "Mo 0.01", "V 0.00", "Ni 0.04", "Cu 0.06"].map((text) =>
    reading(text.split(" ")[0] as "C", text.split(" ")[1]!),
  );
  // CE = 0.18 + 1.20/6 + 0.06/5 + 0.10/15 = 0.3987
  it.each([
    ["0.40", false],
    ["0.41", false],
    ["0.36", true],
  ])("CE %s that the elements do not give is a contradiction: %s", (text, isContradiction) => {
    const { judgements } = judgeHeat({
      heat: heatOf([...carbonSteel, reading("CE", text)], { claims: [] }),
      certificates: [],
      doubts: [],
      requirement: null,
      library,
    });
    expect(judgements.some(({ reason }) => reason === "contradiction")).toBe(isContradiction);
  });
});
