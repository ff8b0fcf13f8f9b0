import { newWorkbook, put, row, ruled, shown, workbookBytes } from "../sheet.js";

/** A plate sold as both 304 and 304L, with strengths in ksi and in MPa, on the form of the invented Harlow Bend Plate. */
export function dualCertifiedPlate(): Promise<Uint8Array> {
  const workbook = newWorkbook("Harlow Bend Plate");
  const sheet = workbook.addWorksheet("MTR");
  sheet.columns = [{ width: 20 }, ...Array.from({ length: 10 }, () => ({ width: 12 }))];
  put(sheet, "A1", "HARLOW BEND PLATE", { bold: true, size: 16 });
  put(sheet, "A2", "MATERIAL TEST REPORT", { bold: true });
  put(sheet, "F2", "EN 10204 type 3.1");
  const facts = [
    ["MTR No.", "HB-20417", "Date", "2026-01-28"],
    ["Sold to", "Tarnholm Cryogenics", "P.O. No.", "T-204 / 3"],
    ["Grade", "ASTM A240/A240M-23 304/304L", "UNS", "S30400 / S30403"],
    ["Product", "Plate, hot rolled, annealed and pickled", "Thickness", "0.500 in"],
  ];
  facts.forEach(([label, value, otherLabel, other], index) => {
    put(sheet, `A${4 + index}`, label, { bold: true });
    put(sheet, `B${4 + index}`, value);
    put(sheet, `F${4 + index}`, otherLabel, { bold: true });
    put(sheet, `G${4 + index}`, other);
  });
  put(sheet, "A9", "Ladle analysis (weight %)", { bold: true });
  ruled(sheet, 10, [
    ["Heat", "C", "Mn", "P", "S", "Si", "Cr", "Ni", "N", "Mo", "Cu"],
    [
      "7K2093",
      ...row(3, 0.023),
      shown(1.61, 2),
      ...row(3, 0.028, 0.002),
      ...row(2, 0.38, 18.22, 8.11),
      shown(0.068, 3),
      ...row(2, 0.28, 0.35),
    ],
  ]);
  put(sheet, "A13", "Mechanical properties, transverse", { bold: true });
  ruled(sheet, 14, [
    ["Heat", "Yield 0.2% ksi", "Yield 0.2% MPa", "Tensile ksi", "Tensile MPa", "Elong. in 2 in %", "Hardness HRB"],
    ["7K2093", shown(41.2, 1), shown(284, 0), shown(86.5, 1), shown(596, 0), shown(56, 0), shown(82, 0)],
  ]);
  put(
    sheet,
    "A17",
    "The material meets both 304 and 304L. Melted and rolled without weld repair. No mercury in contact.",
  );
  put(sheet, "A19", "D. Whitcombe, quality manager", { italic: true });
  return workbookBytes(workbook);
}
