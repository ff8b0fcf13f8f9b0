import ExcelJS from "exceljs";
import { expect, test, vi } from "vitest";
import { safeText } from "../../../worker/store/report-xlsx/cells.js";
import { renderXlsx } from "../../../worker/store/report-xlsx.js";
import { exampleReport } from "../../core/report/example-report.js";
import { namedReport } from "../../core/report/named-report.js";
import { HOSTILE_NAMES } from "../../support/hostile-names.js";

async function open(report = exampleReport): Promise<ExcelJS.Workbook> {
  const workbook = new ExcelJS.Workbook();
  const bytes = await renderXlsx(report, "ab".repeat(32));
  await workbook.xlsx.load(bytes.buffer as ArrayBuffer);
  return workbook;
}

test("limits and evidence stand beside the value, as numbers with their own digits", async () => {
  const sheet = (await open()).getWorksheet("Findings")!;
  const headings = sheet.getRow(1).values as string[];
  const carbon = (heading: string) => sheet.getRow(2).getCell(headings.indexOf(heading));
  expect(carbon("Quantity").value).toBe("C");
  expect(carbon("Outcome").value).toBe("fail");
  expect(carbon("Judged value").value).toBe(0.034);
  expect(carbon("Maximum").value).toBe(0.03);
  expect(carbon("Maximum").numFmt).toBe("0.000");
  expect(carbon("Minimum").value).toBeNull();
  expect(carbon("Margin (negative is outside)").value).toBe(-0.004);
  expect(carbon("Printed").value).toBe("0,034");
  expect(carbon("Where it stood").value).toBe("norrvik-88213.xlsx, sheet Analysis, cell C8");
  expect(carbon("How the limit is known").value).toBe("seen in 3 sources");
  expect(carbon("Limit verified").value).toBe("yes");
});

test("every finding, reading, document, doubt and grade file has its row", async () => {
  const workbook = await open();
  const rows = (name: string) => workbook.getWorksheet(name)!.rowCount - 1;
  expect(rows("Findings")).toBe(exampleReport.heats.flatMap(({ findings }) => findings).length);
  expect(rows("Readings")).toBe(exampleReport.heats.flatMap(({ readings }) => readings).length);
  expect(rows("Documents")).toBe(2);
  expect(rows("Doubts")).toBe(2);
  expect(rows("Library")).toBe(1);
});

test("the first sheet says the verdict of the submission and of each heat", async () => {
  const sheet = (await open()).getWorksheet("Verdict")!;
  expect(sheet.getCell("B1").value).toBe("fail");
  expect(sheet.getCell("B4").value).toBe("ab".repeat(32));
  expect([8, 9, 10].map((row) => [sheet.getCell(row, 1).value, sheet.getCell(row, 2).value])).toEqual([
    ["H4471", "fail"],
    ['<script>alert("H4472")</script>', "undetermined"],
    ["H4473", "pass"],
  ]);
});

test.each([
  ['=HYPERLINK("x")', '\'=HYPERLINK("x")'],
  ["@SUM(A1)", "'@SUM(A1)"],
  ["+cmd|' /C calc'!A0", "'+cmd|' /C calc'!A0"],
  ["-2+3+cmd|x", "'-2+3+cmd|x"],
  ["\t=1+1", "'\t=1+1"],
  [" =1+1", "' =1+1"],
  ["-196", "-196"],
  ["+12,5", "+12,5"],
  ["0,034", "0,034"],
  ["\u0000=1", "\ufffd=1"],
])("%j is written as %j", (text, written) => {
  expect(safeText(text)).toBe(written);
});

test("no cell is a formula or a link, whatever the documents say", async () => {
  const named = HOSTILE_NAMES.map(namedReport);
  const workbook = await open({
    ...named[0]!,
    documents: named.flatMap(({ documents }) => documents),
    heats: named.flatMap(({ heats }) => heats),
  });
  const kinds = ExcelJS.ValueType;
  const texts: string[] = [];
  workbook.eachSheet((sheet) => {
    sheet.eachRow((row) => {
      row.eachCell((cell) => {
        expect([kinds.String, kinds.Number, kinds.Merge]).toContain(cell.type);
        texts.push(oneWhite(cell.text));
      });
    });
  });
  for (const text of texts) expect(text).not.toMatch(/^\s*[=@]/);
  expect(HOSTILE_NAMES.filter((name) => name !== "" && !texts.includes(oneWhite(safeText(name))))).toEqual([]);
});

/** Line ends are changed on their way through XML. */
const oneWhite = (text: string) => text.replace(/\s+/g, " ");

test("a value with more digits than a spreadsheet keeps stays text", async () => {
  const [, , last] = exampleReport.heats;
  const findings = last!.findings.map((finding) => ({ ...finding, judged: "0.1234567890123456" }));
  const sheet = (await open({ ...exampleReport, heats: [{ ...last!, findings }] })).getWorksheet("Findings")!;
  expect(sheet.getCell("F2").value).toBe("0.1234567890123456");
});

test("a text longer than a cell holds is cut and says so", () => {
  const cut = safeText("x".repeat(40_000));
  expect(cut).toHaveLength(32_767);
  expect(cut.endsWith("(cut)")).toBe(true);
});

test("the same report gives the same bytes, also at another time", async () => {
  const first = await renderXlsx(exampleReport);
  vi.useFakeTimers({ toFake: ["Date"], now: new Date("2031-05-05T05:05:05Z") });
  try {
    expect(await renderXlsx(structuredClone(exampleReport))).toEqual(first);
  } finally {
    vi.useRealTimers();
  }
});
