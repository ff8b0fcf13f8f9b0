import { beforeAll, describe, expect, it } from "vitest";
import type { Reading } from "../../../core/certificate/certificate.js";
import type { JoinedHeat } from "../../../core/certificate/joined-heat.js";
import type { Library } from "../../../core/grades/grade.js";
import type { Quantity } from "../../../core/quantity/quantity.js";
import { reportFinding } from "../../../core/report/report-finding.js";
import type { Requirement } from "../../../core/requirement/requirement.js";
import { requirementSchema } from "../../../core/requirement/requirement.js";
import type { Finding } from "../../../core/verdict/finding.js";
import { judgeHeat } from "../../../core/verdict/judge-heat.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { clean304L, heatOf, impactSet, reading, statement } from "../../support/heat.js";

let library: Library;
beforeAll(async () => {
  library = await loadLibrary();
});

const A240_304L = { standard: "ASTM A240/A240M", grade: "S30403" };

function requirement(more: Partial<Requirement> = {}): Requirement {
  return requirementSchema.parse({ requirement: 1, name: "T-204 shell plate", grades: [A240_304L], ...more });
}

function judge(heat: JoinedHeat, wanted: Requirement | null = requirement()) {
  const judged = judgeHeat({ heat, certificates: [], doubts: [], requirement: wanted, library });
  return { verdict: judged.verdict, findings: judged.judgements.map(reportFinding) };
}

function findingFor(findings: readonly Finding[], quantity: string): Finding {
  const found = findings.filter((finding) => finding.quantity === quantity);
  expect(found, `findings for ${quantity}`).toHaveLength(1);
  return found[0]!;
}

describe("a clean 304L heat", () => {
  it("passes, with every limit judged and nothing undetermined", () => {
    const { verdict, findings } = judge(heatOf(clean304L()));
    expect(
      findings.filter(({ outcome }) => outcome !== "pass").map(({ quantity, outcome }) => `${quantity} ${outcome}`),
    ).toEqual(["HRB not-applicable"]);
    expect(verdict).toBe("pass");
  });

  it("is judged by the grades that the certificate claims where no requirement is given", () => {
    expect(judge(heatOf(clean304L()), null).verdict).toBe("pass");
    const { verdict, findings } = judge(heatOf(clean304L(), { claims: [] }), null);
    expect(verdict).toBe("undetermined");
    expect(findings[0]?.reason).toBe("nothing-judged");
  });
});

describe("chemistry", () => {
  it.each<[quantity: Quantity, text: string | null, outcome: string, reason: string | undefined]>([
    ["C", "0.030", "pass", undefined],
    ["C", "0.0305", "pass", undefined],
    ["C", "0.031", "fail", undefined],
    ["C", null, "undetermined", "not-reported"],
    ["C", "<0.030", "pass", undefined],
    ["C", "<0.05", "undetermined", "bound-not-decisive"],
    ["Cr", "17.5", "pass", undefined],
    ["Cr", "17.4", "fail", undefined],
    ["Cr", "19.5", "pass", undefined],
    ["Cr", "19.6", "fail", undefined],
    ["Ni", "7.9", "fail", undefined],
    ["Ni", "8.0", "pass", undefined],
    ["S", "310 ppm", "fail", undefined],
    ["S", "300 ppm", "pass", undefined],
  ])("%s %s: %s", (quantity, text, outcome, reason) => {
    const finding = findingFor(judge(heatOf(clean304L({ [quantity]: text }))).findings, quantity);
    expect([finding.outcome, finding.reason]).toEqual([outcome, reason]);
  });

  it("says in one sentence what is wrong and by how much", () => {
    const finding = findingFor(judge(heatOf(clean304L({ C: "0.034" }))).findings, "C");
    expect(finding.message).toBe("Carbon 0.034 % is above the 0.030 % maximum of S30403 (304L), by 0.004 %.");
    expect(finding.limit?.id).toBe("astm-a240/2007e1/s30403#C");
    expect(finding.margin).toBe("-0.004");
  });

  it("says where the two methods of ASTM E29 part", () => {
    const wanted = requirement({ rounding: "absolute" });
    expect(findingFor(judge(heatOf(clean304L({ C: "0.0304" }))).findings, "C").notes?.join()).toContain(
      "methods of ASTM E29",
    );
    expect(findingFor(judge(heatOf(clean304L({ C: "0.0304" })), wanted).findings, "C").outcome).toBe("fail");
  });

  it("leaves a reading below the threshold undetermined, whichever way it points", () => {
    for (const text of ["0.021", "0.050"]) {
      const readings = clean304L({ C: null });
      readings.push(reading("C", text, { confidence: 0.84 }));
      const finding = findingFor(judge(heatOf(readings)).findings, "C");
      expect([finding.outcome, finding.reason]).toEqual(["undetermined", "low-confidence"]);
    }
  });
});

describe("doubts", () => {
  const doubt = { code: "not-a-number", message: '"4?1" for Rm is not a number that could be read.', quantity: "Rm" };
  const judgeWith = (heat?: string) =>
    judgeHeat({
      heat: heatOf(clean304L()),
      certificates: [],
      doubts: [{ ...doubt, ...(heat !== undefined && { heat }) }],
      requirement: requirement(),
      library,
    });

  it("keep a quantity of the heat from passing, however good its other values are", () => {
    const finding = findingFor(judgeWith("H4471").judgements.map(reportFinding), "Rm");
    expect([finding.outcome, finding.reason]).toEqual(["undetermined", "low-confidence"]);
    expect(finding.message).toContain('"4?1"');
  });

  it("of no certain heat are reported and do not decide", () => {
    expect(judgeWith().verdict).toBe("pass");
  });
});

describe("product analysis", () => {
  const withProduct = (quantity: Quantity, text: string) => [
    ...clean304L(),
    reading(quantity, text, { analysis: "product" }),
  ];
  // ASTM A751: chromium tolerance 0.20, seen; carbon tolerance 0.005 of ASTM A480, from memory.
  it.each<[Quantity, string, string, string | undefined]>([
    ["Cr", "17.30", "pass", undefined],
    ["Cr", "17.29", "fail", undefined],
    ["Cr", "19.70", "pass", undefined],
    ["Cr", "19.71", "fail", undefined],
    ["C", "0.030", "pass", undefined],
    ["C", "0.033", "undetermined", "reference-unverified"],
  ])("%s %s against 304L: %s", (quantity, text, outcome, reason) => {
    const findings = judge(heatOf(withProduct(quantity, text))).findings.filter(
      (finding) => finding.quantity === quantity,
    );
    expect(findings).toHaveLength(2);
    expect(findings[0]?.outcome).toBe("pass");
    expect([findings[1]?.outcome, findings[1]?.reason]).toEqual([outcome, reason]);
  });

  it("does not stand in for a heat analysis that is missing", () => {
    const readings = [...clean304L({ C: null }), reading("C", "0.020", { analysis: "product" })];
    const outcomes = judge(heatOf(readings))
      .findings.filter(({ quantity }) => quantity === "C")
      .map(({ outcome }) => outcome);
    expect(outcomes).toEqual(["undetermined", "pass"]);
  });
});

describe("tensile", () => {
  it.each<[Quantity, string, string, string]>([
    ["Rm", "484", "fail", "MPa"],
    ["Rm", "485", "pass", "MPa"],
    ["Rm", "70 ksi", "pass", "ksi"], // converted, 482.6 MPa would fail 485 MPa
    ["Rm", "69.4 ksi", "fail", "ksi"],
    ["Rm", "69500 psi", "pass", "ksi"], // 69.5 is halfway, 70 is even
    ["Rm", "49.5 kgf/mm2", "pass", "MPa"], // 485.4 MPa
    ["Rm", "49.4 kgf/mm2", "fail", "MPa"], // 484.4 MPa
    ["A50", "39", "fail", "%"],
    ["A50", "40", "pass", "%"],
  ])("%s %s: %s, held in %s", (quantity, text, outcome, unit) => {
    const finding = findingFor(judge(heatOf(clean304L({ [quantity]: text }))).findings, quantity);
    expect([finding.outcome, finding.limit?.unit]).toEqual([outcome, unit]);
  });

  it("judges every test of the heat", () => {
    const readings = [...clean304L(), reading("Rm", "480", { test: "2" })];
    expect(findingFor(judge(heatOf(readings)).findings, "Rm").outcome).toBe("fail");
  });

  it("leaves weld metal and cold tests out of the plate's room-temperature limits", () => {
    const cold = { temperature: { value: { digits: -196n, places: 0 }, unit: "°C" as const } };
    const readings = [...clean304L(), reading("Rm", "400", { zone: "weld" }), reading("Rp0.2", "100", cold)];
    expect(judge(heatOf(readings)).verdict).toBe("pass");
  });

  it("takes an unstated yield and gauge length in the sense of the claimed standard only where no other family is claimed", () => {
    const readings = [...clean304L({ "Rp0.2": null, A50: null }), reading("Yield", "291"), reading("Elongation", "54")];
    expect(judge(heatOf(readings)).verdict).toBe("pass");
    const dual = [
      { standard: "ASTM A240/A240M", grade: "304L" },
      { standard: "EN 10028-7", grade: "1.4307" },
    ];
    const { findings } = judge(heatOf(readings, { claims: dual }));
    expect(findingFor(findings, "Rp0.2").reason).toBe("kind-unknown");
    expect(findingFor(findings, "A50").reason).toBe("gauge-length-unknown");
  });

  it("never compares one gauge length with another", () => {
    const readings = [...clean304L({ A50: null }), reading("A", "54")];
    expect(findingFor(judge(heatOf(readings)).findings, "A50").reason).toBe("gauge-length-unknown");
  });
});

describe("hardness", () => {
  it("asks for Brinell or Rockwell, and for one at least", () => {
    expect(judge(heatOf(clean304L({ HBW: null, HRB: "85" }))).verdict).toBe("pass");
    const finding = findingFor(judge(heatOf(clean304L({ HBW: null }))).findings, "HBW or HRB");
    expect(finding.reason).toBe("not-reported");
    expect(findingFor(judge(heatOf(clean304L({ HRB: "93" }))).findings, "HRB").outcome).toBe("fail");
  });

  it("is never converted between scales", () => {
    expect(findingFor(judge(heatOf(clean304L({ HBW: null, HV: "160" }))).findings, "HBW or HRB").reason).toBe(
      "not-comparable",
    );
  });
});

describe("grades", () => {
  it("holds a dual-certified heat to all of them", () => {
    const grades = [A240_304L, { standard: "ASTM A240/A240M", grade: "S30400" }];
    const claims = [
      { standard: "ASTM A240", grade: "304" },
      { standard: "ASTM A240", grade: "304L" },
    ];
    const { verdict, findings } = judge(heatOf(clean304L({ Rm: "500" }), { claims }), requirement({ grades }));
    expect(findings.filter(({ quantity }) => quantity === "Rm").map(({ outcome }) => outcome)).toEqual([
      "pass",
      "fail",
    ]);
    expect(verdict).toBe("fail");
  });

  it("does not let metal pass as a grade that no document certifies", () => {
    const { verdict, findings } = judge(
      heatOf(clean304L({ Rm: "604" }), { claims: [{ standard: "ASTM A240", grade: "304" }] }),
    );
    expect(verdict).toBe("undetermined");
    expect(findingFor(findings, "grade").reason).toBe("grade-not-claimed");
  });

  it("does not hold a pipe to a plate's specification without saying so", () => {
    const { verdict, findings } = judge(heatOf(clean304L(), { product: { form: statement("pipe") } }));
    expect(verdict).toBe("undetermined");
    expect(findingFor(findings, "product form").message).toContain(
      "is for plate, sheet and strip; the product is pipe",
    );
  });

  it("says what it does not know", () => {
    const { findings } = judge(
      heatOf(clean304L()),
      requirement({ grades: [{ standard: "ASTM A240", grade: "304X" }] }),
    );
    expect(findingFor(findings, "grade").reason).toBe("grade-unknown");
  });
});

describe("project limits", () => {
  it.each([
    ["0.025", "pass"],
    ["0.0254", "fail"], // a project names no rounding, so all digits count
    ["0.026", "fail"],
  ])("carbon %s against a project ceiling of 0.025: %s", (text, outcome) => {
    const limits = [{ quantity: "C" as const, max: "0.025", unit: "%" as const, source: "T-204 specification 4.2" }];
    const { findings } = judge(heatOf(clean304L({ C: text })), requirement({ limits }));
    const finding = findings.find(({ limit }) => limit?.id === "requirement#limits/0");
    expect(finding?.outcome).toBe(outcome);
    expect(finding?.source.standard).toBe("T-204 specification 4.2");
  });
});

describe("impact", () => {
  const wanted = requirement({
    impact: [{ zone: "haz", temperature: "-196 °C", average: "60 J", single: "42 J", lateralExpansion: "0.38 mm" }],
  });
  const expansion = (values: readonly string[]) =>
    values.map((value) =>
      reading("LE", value, {
        test: "impact 1",
        zone: "haz",
        temperature: { value: { digits: -196n, places: 0 }, unit: "°C" },
      }),
    );
  const judgeSet = (
    singles: readonly string[],
    more: Parameters<typeof impactSet>[1] = {},
    le = ["0.55", "0.60", "0.52"],
  ) => {
    const readings = [...clean304L(), ...impactSet(singles, { zone: "haz", ...more }), ...expansion(le)];
    return judge(heatOf(readings), wanted);
  };
  const outcomes = (findings: readonly Finding[]) =>
    findings
      .filter(({ quantity }) => /^(KV|LE)/.test(quantity))
      .map(({ quantity, outcome, reason }) => [quantity, outcome, reason ?? ""].join(" ").trim());

  it.each<[string[], Parameters<typeof impactSet>[1], string[]]>([
    [["71", "65", "68"], {}, ["KV average pass", "KV single pass", "LE pass"]],
    [["60", "60", "60"], {}, ["KV average pass", "KV single pass", "LE pass"]],
    [["60", "60", "59"], {}, ["KV average fail", "KV single pass", "LE pass"]],
    [["98", "71", "42"], {}, ["KV average pass", "KV single pass", "LE pass"]],
    [["98", "71", "41"], {}, ["KV average pass", "KV single fail", "LE pass"]],
    [
      ["71", "65"],
      {},
      ["KV average undetermined test-incomplete", "KV single undetermined test-incomplete", "LE pass"],
    ],
    [["71", "65", "68"], { at: "-101 °C" }, ["KV undetermined not-reported", "LE pass"]],
    [["71", "65", "68"], { at: "-269 °C" }, ["KV average pass", "KV single pass", "LE pass"]],
    [["71", "65", "68"], { at: "-320 °F" }, ["KV average pass", "KV single pass", "LE pass"]],
    [["71", "65", "68"], { at: "77 K" }, ["KV average pass", "KV single pass", "LE pass"]],
    [["71", "65", "68"], { zone: "weld" }, ["KV undetermined not-reported", "LE pass"]],
  ])("singles %j %j: %j", (singles, more, expected) => {
    expect(outcomes(judgeSet(singles, more).findings)).toEqual(expected);
  });

  it.each([
    [["0.38", "0.60", "0.52"], "LE pass"],
    [["0.37", "0.60", "0.52"], "LE fail"],
  ])("asks every piece for its lateral expansion: %j is %s", (le, expected) => {
    expect(outcomes(judgeSet(["71", "65", "68"], {}, le).findings)).toContain(expected);
  });

  it("does not judge sub-size pieces without a rule that is named", () => {
    const width = { value: { digits: 5n, places: 0 }, unit: "mm" as const };
    expect(outcomes(judgeSet(["71", "65", "68"], { specimenWidth: width }).findings)[0]).toBe(
      "KV undetermined not-comparable",
    );
  });

  it("recomputes the average, and a stated one that does not follow is a contradiction", () => {
    const { verdict, findings } = judgeSet(["61", "65", "63"], { average: "68" });
    expect(verdict).toBe("undetermined");
    expect(findingFor(findings, "consistency").message).toContain("average 63");
    expect(judgeSet(["61", "65", "64"], { average: "63" }).verdict).toBe("pass"); // 63.3
  });
});

describe("consistency", () => {
  it.each<[string, Reading[], RegExp]>([
    ["a proof strength above the tensile strength", clean304L({ "Rp0.2": "610" }), /Rp0.2 610 MPa is above Rm 604 MPa/],
    ["elements above 100 %", [...clean304L(), reading("Fe", "72")], /add up to 100\./],
    ["two heat analyses", [...clean304L(), reading("Mn", "1.71")], /two analyses: Mn 1.62 % and 1.71 %/],
    [
      "a specification row",
      clean304L({ C: "0.030", Mn: "2.00", P: "0.045", S: "0.030" }),
      /stand exactly on the limits/,
    ],
  ])("%s turns a pass into undetermined", (_, readings, message) => {
    const { verdict, findings } = judge(heatOf(readings));
    expect(verdict).toBe("undetermined");
    expect(findingFor(findings, "consistency").message).toMatch(message);
  });

  it("takes a coarser print of the same analysis for the same", () => {
    expect(judge(heatOf([...clean304L(), reading("Mn", "1.6")])).verdict).toBe("pass");
  });

  it("never turns a fail into anything better", () => {
    expect(judge(heatOf(clean304L({ C: "0.05", "Rp0.2": "610" }))).verdict).toBe("fail");
  });

  it("reports a thickness on which order and certificate disagree", () => {
    const thickness = statement({ value: { digits: 10n, places: 0 }, unit: "mm" as const });
    const wanted = requirement({ product: { thickness: "12 mm" } });
    expect(judge(heatOf(clean304L(), { product: { thickness } }), wanted).verdict).toBe("undetermined");
    const inches = requirement({ product: { thickness: "0.375 in" } });
    expect(
      findingFor(judge(heatOf(clean304L(), { product: { thickness } }), inches).findings, "consistency").message,
    ).toBe("Contradiction: requirement and documents disagree on the thickness: 9.525 mm and 10 mm.");
  });
});

describe("a delivery condition in words that are not known", () => {
  const A666 = { standard: "ASTM A666", grade: "S30400" };
  const said = (findings: readonly Finding[]) =>
    findings.find(({ quantity }) => quantity === "delivery condition")?.message;
  const rmOf = (findings: readonly Finding[]) => findings.find(({ quantity }) => quantity === "Rm")?.outcome;
  const heat = (condition?: string) =>
    heatOf(clean304L(), {
      claims: [{ standard: "ASTM A666", grade: "S30400" }],
      ...(condition !== undefined && { product: { condition: statement(condition) } }),
    });
  const order = (condition?: string) =>
    requirement({ grades: [A666], product: { form: "plate", ...(condition !== undefined && { condition }) } });

  it("of the order is said, and chooses no limit, whatever the certificate says", () => {
    for (const certified of [undefined, "annealed"]) {
      const { verdict, findings } = judge(heat(certified), order("quartr hrd"));
      expect([verdict, rmOf(findings)]).toEqual(["undetermined", "undetermined"]);
      expect(said(findings)).toBe(
        'Delivery condition "quartr hrd" is in words that are not known here: no limit was chosen by it.',
      );
    }
  });

  it("of the certificate is said; the order's own words still choose", () => {
    expect(rmOf(judge(heat("temper 2X"), order()).findings)).toBe("undetermined");
    const { findings } = judge(heat("temper 2X"), order("1/4 hard"));
    expect(rmOf(findings)).toBe("fail");
    expect(said(findings)).toMatch(/"temper 2X" .*: limits were chosen for 1[/]4 hard[.]$/);
  });

  it("changes nothing where no limit hangs on it, and is not said of words that are known", () => {
    const { verdict, findings } = judge(heatOf(clean304L()), requirement({ product: { condition: "quartr hrd" } }));
    expect([verdict, said(findings) !== undefined]).toEqual(["pass", true]);
    expect(said(judge(heat("annealed"), order("Annealed")).findings)).toBeUndefined();
  });

  it("is not taken for the one condition that a standard delivers", () => {
    const annealed = library.grades.find(
      ({ grade }) => grade.id.startsWith("astm-a666/") && grade.name.includes("304"),
    )!;
    const grade = {
      ...annealed.grade,
      limits: annealed.grade.limits.filter(({ when }) => when?.condition?.[0] === "annealed"),
    };
    const only = { ...library, grades: [{ grade, digest: "" }] };
    const notesOf = (condition?: string) =>
      judgeHeat({ heat: heat(condition), certificates: [], doubts: [], requirement: null, library: only })
        .judgements.flatMap(({ notes }) => notes)
        .filter(({ code }) => code === "inherent-condition");
    expect(notesOf().length).toBeGreaterThan(0);
    expect(notesOf("temper 2X")).toEqual([]);
  });
});

describe("filler metal", () => {
  it("is tested as deposited, whether the paper says weld or not", () => {
    const wanted = requirementSchema.parse({
      requirement: 1,
      name: "T-204 electrodes",
      grades: [{ standard: "AWS A5.4", grade: "E308L" }],
    });
    const outcomeOf = (zone: "weld" | "haz" | undefined) => {
      const more = zone === undefined ? {} : { zone };
      const heat = heatOf([...clean304L({ Rm: null, A50: null }), reading("Rm", "560", more)], {
        claims: [{ standard: "AWS A5.4", grade: "E308L" }],
      });
      const { findings } = judge(heat, wanted);
      return findings.find(({ quantity }) => quantity === "Rm")?.outcome;
    };
    expect([outcomeOf("weld"), outcomeOf(undefined), outcomeOf("haz")]).toEqual(["pass", "pass", "undetermined"]);
  });
});
