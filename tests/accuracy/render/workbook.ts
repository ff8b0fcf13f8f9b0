import ExcelJS from "exceljs";
import { type GridSpot, layOnGrid } from "./lay-on-grid.js";
import { type Renderer, type Spot, slot } from "./rendered.js";

export const renderWorkbook: Renderer = async (paper, random) => {
  const workbook = new ExcelJS.Workbook();
  const spots = layOnGrid(paper, random.pick(["Certificate", "Sheet1", "Results"]));
  const asNumbers = random.chance(0.6);
  for (const spot of spots) {
    const sheet = workbook.getWorksheet(spot.sheet) ?? workbook.addWorksheet(spot.sheet);
    put(sheet, spot, asNumbers);
  }
  return {
    name: "paper.xlsx",
    bytes: Buffer.from(await workbook.xlsx.writeBuffer()),
    spots: spots.map(
      ({ sheet, row, column, cell, table }): Spot => ({
        cell,
        table,
        area: slot(sheet, row, column, cell.rows, cell.columns),
      }),
    ),
  };
};

function put(sheet: ExcelJS.Worksheet, { row, column, cell }: GridSpot, asNumbers: boolean): void {
  const target = sheet.getCell(row, column);
  const number = /^-?\d+(?:[.,]\d+)?$/.test(cell.text) ? cell.text.replace(",", ".") : undefined;
  // A heat number of digits is typed as text, as people do who have once lost a zero.
  const isNumber = asNumbers && number !== undefined && cell.heat === undefined;
  if (cell.text !== "") target.value = isNumber ? Number(number) : cell.text;
  const places = number?.split(".")[1]?.length ?? 0;
  if (typeof target.value === "number" && places > 0) target.numFmt = `0.${"0".repeat(places)}`;
  if (cell.columns > 1 || cell.rows > 1) {
    sheet.mergeCells(row, column, row + cell.rows - 1, column + cell.columns - 1);
  }
}
