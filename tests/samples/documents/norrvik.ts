import type { Workbook } from "exceljs";
import { type CellContent, newWorkbook, put, ruled } from "../sheet.js";

/** The form that the invented mill Norrvik Stainless sends with its plate: one sheet, results below the specified range. */
export interface NorrvikCertificate {
  readonly number: string;
  readonly date: Date;
  readonly order: string;
  readonly product: string;
  readonly dimensions: string;
  readonly specification: string;
  readonly elements: readonly string[];
  readonly specifiedMin: readonly CellContent[];
  readonly specifiedMax: readonly CellContent[];
  readonly analyses: readonly (readonly CellContent[])[];
  readonly tensileTitles: readonly string[];
  readonly tensileMin: readonly CellContent[];
  readonly tensile: readonly (readonly CellContent[])[];
  /** Heat, piece, temperature, three energies, their average, three lateral expansions. */
  readonly impact?: readonly (readonly CellContent[])[];
}

export function norrvikWorkbook(certificate: NorrvikCertificate): Workbook {
  const workbook = newWorkbook("Norrvik Stainless");
  const sheet = workbook.addWorksheet("Certificate", { pageSetup: { orientation: "landscape", fitToPage: true } });
  sheet.columns = [{ width: 22 }, ...Array.from({ length: 11 }, () => ({ width: 11 }))];
  put(sheet, "A1", "NORRVIK STAINLESS", { bold: true, size: 18 });
  put(sheet, "A2", "Plate mill, Norrvik", { italic: true });
  put(sheet, "A4", "INSPECTION CERTIFICATE 3.1 according to EN 10204:2004", { bold: true, size: 13 });
  sheet.mergeCells("A4:H4");

  const facts: readonly (readonly [string, CellContent, string, CellContent])[] = [
    ["Certificate No.", certificate.number, "Date", certificate.date],
    ["Customer", "Tarnholm Cryogenics", "Purchase order", certificate.order],
    ["Product", certificate.product, "Dimensions", certificate.dimensions],
    ["Specification", certificate.specification, "Delivery condition", "Solution annealed"],
  ];
  facts.forEach(([leftLabel, left, rightLabel, right], index) => {
    const line = 6 + index;
    put(sheet, `A${line}`, leftLabel, { bold: true });
    put(sheet, `B${line}`, left);
    sheet.mergeCells(`B${line}:E${line}`);
    put(sheet, `G${line}`, rightLabel, { bold: true });
    put(sheet, `I${line}`, right);
  });

  let line = section(workbook, 11, "Chemical composition, heat analysis, % by mass");
  line = ruled(sheet, line, [
    ["Heat No.", ...certificate.elements],
    ["min", ...certificate.specifiedMin],
    ["max", ...certificate.specifiedMax],
    ...certificate.analyses,
  ]);
  line = section(workbook, line + 1, "Tensile test at room temperature, transverse, EN ISO 6892-1");
  line = ruled(sheet, line, [certificate.tensileTitles, ["min", ...certificate.tensileMin], ...certificate.tensile]);
  if (certificate.impact) {
    line = section(workbook, line + 1, "Impact test, Charpy V, KV2, transverse, 10 x 10 mm, EN ISO 148-1");
    line = ruled(sheet, line, [IMPACT_TITLES, ...certificate.impact]);
  }
  signOff(workbook, line + 1);
  return workbook;
}

const IMPACT_TITLES = [
  "Heat No.",
  "Plate No.",
  "Temperature °C",
  "KV 1 J",
  "KV 2 J",
  "KV 3 J",
  "Average J",
  "Lateral expansion 1 mm",
  "Lateral expansion 2 mm",
  "Lateral expansion 3 mm",
];

function section(workbook: Workbook, line: number, title: string): number {
  put(workbook.worksheets[0]!, `A${line}`, title, { bold: true });
  return line + 1;
}

function signOff(workbook: Workbook, line: number): void {
  const sheet = workbook.worksheets[0]!;
  put(
    sheet,
    `A${line}`,
    "Marking and dimensions inspected: satisfactory. Material identification (PMI): satisfactory.",
  );
  put(sheet, `A${line + 1}`, "We certify that the products supplied comply with the requirements of the order.");
  put(sheet, `A${line + 3}`, "M. Halvorsen", { italic: true });
  put(sheet, `A${line + 4}`, "Authorised inspection representative, independent of manufacturing");
}
