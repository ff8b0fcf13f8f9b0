import { type DrawnTable, drawTable, drawText, type Pdf, type Ruling } from "./draw-page.js";

export const CHEMISTRY = [
  ["Heat No.", "C", "Si", "Mn", "P", "S", "Cr", "Ni", "N"],
  ["", "%", "%", "%", "%", "%", "%", "%", "%"],
  ["H4471", "0.024", "0.41", "1.52", "0.031", "0.002", "18.12", "8.05", "0.061"],
  ["H4472", "0.019", "0.50", "1.48", "0.029", "0.001", "18.30", "8.11", "0.058"],
];

export const TENSILE = [
  ["Test piece", ["Yield strength MPa", 2], "Rm", "A", "HBW"],
  ["", "Rp0.2", "Rp1.0", "MPa", "%", ""],
  ["H4471-1", "285", "331", "612", "54", "172"],
  ["H4472-1", "291", "338", "620", "52.5", "175"],
] as const;

export const IMPACT = [
  ["Heat", "Zone", "T °C", "1", "2", "3", "Avg J"],
  ["H4471", "base", "-196", "112", "108", "115", "112"],
  ["H4471", "HAZ FL+1", "-196", "71", "68", "80", "73"],
];

export const HEADER: readonly (readonly [label: string, value: string])[] = [
  ["Certificate No.:", "NH-20418"],
  ["Date:", "2026-03-05"],
  ["Customer:", "Tarnholm Cryogenics"],
  ["Product:", "Hot rolled plate 12 mm"],
];

/** The first page of an invented mill's certificate: header fields, three tables, a signature. */
export function drawCertificate(pdf: Pdf, ruling: Ruling, align: DrawnTable["align"] = "center"): void {
  pdf.fontSize(14);
  drawText(pdf, "Nordhavn Rolling AS", 40, 36);
  pdf.fontSize(10);
  drawText(pdf, "INSPECTION CERTIFICATE EN 10204 3.1", 300, 38);
  pdf.fontSize(8);
  HEADER.forEach(([label, value], index) => {
    const [x, y] = [index % 2 === 0 ? 40 : 300, 70 + Math.floor(index / 2) * 14];
    drawText(pdf, label, x, y);
    drawText(pdf, value, x + 75, y);
  });
  drawText(pdf, "Chemical composition, heat analysis", 40, 118);
  const chemistry = { x: 40, y: 130, widths: [70, ...Array(8).fill(48)], rows: CHEMISTRY };
  let y = drawTable(pdf, { ...chemistry, ruling, align });
  drawText(pdf, "Tensile test at room temperature, transverse", 40, y + 14);
  y = drawTable(pdf, { x: 40, y: y + 26, widths: [90, 70, 70, 60, 60, 60], rows: TENSILE, ruling, align });
  drawText(pdf, "Impact test EN ISO 148-1, KV2, 10 x 10 mm", 40, y + 14);
  y = drawTable(pdf, { x: 40, y: y + 26, widths: [70, 80, 50, 45, 45, 45, 60], rows: IMPACT, ruling, align });
  drawText(pdf, "We certify that the goods comply with the order. Works inspector: I. Brandt", 40, y + 40);
}
