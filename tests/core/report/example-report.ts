import type { Report, ReportReading } from "../../../core/report/report.js";
import type { Finding } from "../../../core/verdict/finding.js";

/** A report with every kind of thing a face must show. Written by hand; nothing of it comes from the judge. */
export const exampleReport: Report = {
  report: 1,
  verdict: "fail",
  requirement: { name: "T-204 shell plate", digest: `sha256:${"b".repeat(64)}` },
  documents: [
    {
      name: "norrvik-88213.xlsx",
      sha256: "1f".repeat(32),
      reader: "xlsx",
      pages: 2,
      type: "3.1",
      number: "88213",
      issuer: "Norrvik Stainless",
      date: "2026-02-11",
      order: "T-204",
      doubts: [
        {
          code: "not-a-number",
          message: 'Under Si stands "0,4S", which is not a number. Compare with the paper and hand in the value.',
          evidence: { document: 0, sheet: "Analysis", cell: "E9" },
          heat: "H4472",
          quantity: "Si",
        },
        { code: "sheet-hidden", message: 'The sheet "Old" is hidden; nothing was read from it.' },
      ],
    },
    {
      name: "calder-cvn-0311.csv",
      sha256: "2e".repeat(32),
      reader: "csv",
      issuer: "Calder Test House",
      notes: ["decimal comma, semicolon"],
      doubts: [],
    },
  ],
  heats: [
    {
      heat: "H4471",
      verdict: "fail",
      grades: [
        {
          id: "astm-a240/2023/s30403",
          standard: "ASTM A240/A240M",
          edition: "2023",
          name: "S30403 (304L)",
          chosen: "named by the requirement",
        },
      ],
      product: { form: "plate", thickness: "12 mm", condition: "solution annealed" },
      readings: [
        reading(1, "C", "0,034", "0.034", "%", { analysis: "heat", cell: "C8" }),
        reading(2, "Mn", "1,52", "1.52", "%", { analysis: "heat", cell: "D8" }),
        reading(3, "Rm", "84.1", "579.849088", "MPa", { cell: "F8", stated: "ksi", orientation: "transverse" }),
        impact(4, "61", "haz", 5),
        impact(5, "38", "haz", 6),
        impact(6, "44", "haz", 7),
        reading(7, "Cr", "18,1", "18.1", "%", { analysis: "heat", cell: "G8", confidence: 0.72, notes: ["OCR"] }),
      ],
      findings: [
        limitFinding("fail", "C", [1], "0.034", { max: "0.030", unit: "%" }, "-0.004", {
          message: "Carbon 0.034 % is 0.004 % above the 0.030 % ceiling of S30403 (304L).",
        }),
        limitFinding("pass", "Mn", [2], "1.52", { max: "2.00", unit: "%" }, "0.48"),
        limitFinding("undetermined", "Cr", [7], "18.1", { min: "17.5", max: "19.5", unit: "%" }, "0.6", {
          reason: "low-confidence",
          message: "Chromium 18.1 % would be within 17.5 to 19.5 %, but was read with too little certainty.",
        }),
        limitFinding("pass", "Rm", [3], "84.1", { min: "70", unit: "ksi" }, "14.1", { unit: "ksi" }),
        limitFinding("pass", "A50", [], undefined, { min: "40", unit: "%" }, undefined, {
          source: {
            standard: "ASTM A240/A240M",
            edition: "2023",
            clause: "Table 2",
            known: "from memory, not verified",
            verified: false,
          },
        }),
        limitFinding("fail", "KV single", [4, 5, 6], "38", { min: "42", unit: "J" }, "-4", {
          zone: "haz",
          unit: "J",
          message: "Single impact value 38 J at -196 °C in the heat-affected zone is 4 J below the 42 J minimum.",
          source: {
            standard: "T-204 shell plate",
            clause: "impact, heat-affected zone",
            known: "project requirement",
            verified: true,
          },
          notes: ["Set 44, 38, 61 J; average 47.7 J."],
        }),
        limitFinding("undetermined", "KV", [], undefined, { min: "60", unit: "J" }, undefined, {
          zone: "weld",
          reason: "not-reported",
          message: "No impact test of the weld at -196 °C or colder is reported.",
          source: {
            standard: "T-204 shell plate",
            clause: "impact, weld",
            known: "project requirement",
            verified: true,
          },
        }),
        {
          outcome: "pass",
          quantity: "document type",
          readings: [],
          source: { standard: "EN 10204", known: "project requirement", verified: true },
          message: "The certificate is of type 3.1, as required.",
        },
        {
          outcome: "not-applicable",
          quantity: "Ti",
          readings: [],
          source: { standard: "ASTM A240/A240M", clause: "Table 1", known: "seen in 3 sources", verified: true },
          message: "No titanium limit applies to S30403.",
        },
      ],
      computed: [
        {
          name: "PREN",
          value: "18.4",
          unit: "1",
          low: "17.9",
          high: null,
          expression: "Cr + 3.3 Mo + 16 N",
          source: "common form",
          notReported: ["Mo"],
          cautions: ["Molybdenum is not reported."],
        },
      ],
      hints: [{ message: "Carbon above 0.03 % sensitises sooner in welding.", restsOn: "C 0.034 %" }],
    },
    {
      heat: '<script>alert("H4472")</script>',
      verdict: "undetermined",
      grades: [],
      readings: [],
      findings: [],
    },
    {
      heat: "H4473",
      verdict: "pass",
      grades: [],
      readings: [reading(1, "C", "0,021", "0.021", "%", { analysis: "product", cell: "C10" })],
      findings: [limitFinding("pass", "C", [1], "0.021", { max: "0.030", unit: "%" }, "0.009")],
    },
  ],
  corrections: { by: "A. Lindqvist", date: "2026-04-03", items: 1 },
  library: [{ id: "astm-a240/2023/s30403", digest: `sha256:${"c".repeat(64)}` }],
  cautions: [
    "This report assists a competent person. It replaces neither the governing code nor licensed engineering practice.",
  ],
};

function reading(
  id: number,
  quantity: string,
  printed: string,
  value: string,
  unit: string,
  { cell, ...rest }: { cell: string } & Partial<ReportReading>,
): ReportReading {
  const evidence = { document: 0, sheet: "Analysis", cell };
  return { id, quantity, printed, value, unit, confidence: 1, evidence, ...rest };
}

function impact(id: number, joule: string, zone: "base" | "weld" | "haz", line: number): ReportReading {
  return {
    id,
    quantity: "KV",
    printed: joule,
    value: joule,
    unit: "J",
    confidence: 1,
    evidence: { document: 1, line, column: 4 },
    zone,
    temperature: "-196 °C",
    orientation: "transverse",
    specimen: "10 mm",
    striker: 8,
    test: "CVN-3",
    statistic: "single",
  };
}

function limitFinding(
  outcome: Finding["outcome"],
  quantity: string,
  readings: readonly number[],
  judged: string | undefined,
  limit: { readonly min?: string; readonly max?: string; readonly unit: string },
  margin: string | undefined,
  rest: Partial<Finding> = {},
): Finding {
  return {
    outcome,
    quantity,
    readings,
    limit: { id: `astm-a240/2023/s30403#${quantity}`, ...limit },
    unit: limit.unit,
    source: {
      standard: "ASTM A240/A240M",
      edition: "2023",
      clause: "Table 1",
      known: "seen in 3 sources",
      verified: true,
    },
    message: `${quantity} is within its limit.`,
    ...(judged !== undefined && { judged }),
    ...(margin !== undefined && { margin }),
    ...rest,
  };
}
