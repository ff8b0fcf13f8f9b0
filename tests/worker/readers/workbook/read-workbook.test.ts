import { expect, test } from "vitest";
import { readCertificate } from "../../../../core/recogniser/read-certificate.js";
import { tell } from "../../../core/recogniser/tell.js";
import { asRows, readHere } from "../read-in-process.js";
import { stylesOf, writeWorkbook } from "../write-workbook.js";

const inline = (cell: string, text: string) => `<c r="${cell}" t="inlineStr"><is><t>${text}</t></is></c>`;

test("shared, rich and inline texts, numbers and numbers as text", async () => {
  const strings = [
    "<si><t>Heat</t></si>",
    '<si><r><t>P ×10</t></r><r><rPr><vertAlign val="superscript"/></rPr><t>-3</t></r></si>',
    "<si><t>0,034</t></si>",
    "<si><r><rPr><b/></rPr><t>Total</t></r></si>",
    "<si><t>炉</t><rPh><t>ろ</t></rPh></si>",
  ].join("");
  const bytes = writeWorkbook({
    strings,
    sheets: [
      `<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>3</v></c></row>
       <row r="3"><c r="A3"><v>2.9999999999999999E-2</v></c><c r="B3" t="s"><v>2</v></c>${inline("C3", " H 4471 ")}
       <c r="D3" t="s"><v>4</v></c></row></sheetData>`,
    ],
  });
  const { tables } = await readHere(bytes);
  expect(asRows(tables[0]!.cells)).toEqual([["Heat", "P ×10⁻³", "Total"], [], ["0.03", "0,034", "H 4471", "炉"]]);
  expect(tables[0]!.cells[2]).toMatchObject({ text: "Total", bold: true, place: { sheet: "Sheet1", cell: "C1" } });
  expect(tables[0]!.cells[3]).toMatchObject({ number: "0.03" });
  expect(tables[0]!.cells[4]).not.toHaveProperty("number");
});

test("formulas: a cached result is a number, one never calculated is a doubt and neither blank nor 0", async () => {
  const bytes = writeWorkbook({
    sheets: [
      `<sheetData><row r="1"><c r="A1"><f>1+1</f><v>2</v></c><c r="B1"><f>A1*2</f></c><c r="C1" t="str"><f>""</f><v></v></c>
       <c r="D1" t="e"><f>1/0</f><v>#DIV/0!</v></c></row></sheetData>`,
    ],
  });
  const { tables, doubts, notes } = await readHere(bytes);
  expect(asRows(tables[0]!.cells)).toEqual([["2", "=A1*2", "", "#DIV/0!"]]);
  expect(tables[0]!.cells[0]!.number).toBe("2");
  expect(doubts.map(({ code, place }) => [code, place])).toEqual([
    ["not-calculated", { sheet: "Sheet1", cell: "B1" }],
    ["error-value", { sheet: "Sheet1", cell: "D1" }],
  ]);
  expect(notes).toEqual(["3 cells hold formulas; the results last saved with the workbook were read"]);
});

test("cells and rows without names follow their neighbours; ISO dates stay whole; booleans are words", async () => {
  const bytes = writeWorkbook({
    sheets: [
      `<sheetData><row><c><v>1</v></c><c t="d"><v>2024-03-05T10:00:00</v></c></row><row><c t="b"><v>1</v></c></row></sheetData>`,
    ],
  });
  const { tables } = await readHere(bytes);
  expect(asRows(tables[0]!.cells)).toEqual([["1", "2024-03-05 10:00:00"], ["TRUE"]]);
  expect(tables[0]!.cells[1]!.date).toBe("2024-03-05");
});

test("a merged heading stands once with its span; what is stored under it is hidden", async () => {
  const bytes = writeWorkbook({
    sheets: [
      `<sheetData><row r="1">${inline("A1", "Tensile")}${inline("B1", "ghost")}</row><row r="2">${inline("A2", "Rm")}
       ${inline("B2", "A")}${inline("C2", "Z")}</row></sheetData><mergeCells><mergeCell ref="A1:C1"/></mergeCells>`,
    ],
  });
  const { tables } = await readHere(bytes);
  const [heading, ghost, below] = tables[0]!.cells;
  expect(heading).toMatchObject({ text: "Tensile", columnSpan: 3 });
  expect(heading).not.toHaveProperty("rowSpan");
  expect(ghost).toMatchObject({ text: "ghost", hidden: true });
  expect(below).not.toHaveProperty("columnSpan");
});

test("hidden sheets, rows and columns, and struck-out cells are marked, not dropped", async () => {
  const bytes = writeWorkbook({
    styles: stylesOf(["General"]).replace("</cellXfs>", '<xf numFmtId="0" fontId="2"/></cellXfs>'),
    sheets: [
      `<cols><col min="2" max="3" hidden="1"/></cols><sheetData><row r="1"><c r="A1"><v>1</v></c><c r="C1"><v>2</v></c></row>
       <row r="2" hidden="1"><c r="A2"><v>3</v></c></row><row r="3"><c r="A3" s="1"><v>4</v></c></row></sheetData>`,
      "<sheetData/>",
    ],
    states: ["visible", "veryHidden"],
  });
  const { tables } = await readHere(bytes);
  expect(tables[0]!.cells.map(({ text, hidden, struck }) => [text, hidden, struck])).toEqual([
    ["1", undefined, undefined],
    ["2", true, undefined],
    ["3", true, undefined],
    ["4", undefined, true],
  ]);
  expect(tables.map(({ hidden }) => hidden)).toEqual([undefined, true]);
});

const colours: readonly [font: string, fill: string, unseen: boolean][] = [
  ['<color rgb="FFFFFFFF"/>', '<patternFill patternType="none"/>', true],
  ['<color theme="0"/>', '<patternFill patternType="none"/>', true],
  ['<color indexed="9"/>', "<patternFill/>", true],
  ['<color rgb="FF112233"/>', '<patternFill patternType="solid"><fgColor rgb="FF112233"/></patternFill>', true],
  ['<color rgb="FFFFFFFF"/>', '<patternFill patternType="solid"><fgColor rgb="FF112233"/></patternFill>', false],
  ['<color rgb="FFFFFFFF"/>', '<patternFill patternType="solid"><fgColor theme="4"/></patternFill>', false],
  ['<color rgb="FFFFFFFF"/>', '<gradientFill><stop position="0"><color rgb="FF112233"/></stop></gradientFill>', false],
  ['<color theme="0" tint="-0.5"/>', '<patternFill patternType="none"/>', false],
  ["", '<patternFill patternType="none"/>', false],
  ['<color rgb="FFFF0000"/>', '<patternFill patternType="none"/>', false],
];

test.each(colours)("writing of the colour %s on %s: hidden %s", async (font, fill, unseen) => {
  const bytes = writeWorkbook({
    styles: `<fonts><font>${font}</font></fonts><fills><fill>${fill}</fill></fills><cellXfs><xf fontId="0" fillId="0"/></cellXfs>`,
    sheets: ['<sheetData><row r="1"><c r="A1" s="0"><v>0.021</v></c></row></sheetData>'],
  });
  const { tables } = await readHere(bytes);
  expect(tables[0]!.cells).toMatchObject([{ text: "0.021" }]);
  expect(tables[0]!.cells[0]!.hidden ?? false).toBe(unseen);
});

test("a percentage typed into a sheet is the content that was typed", async () => {
  const bytes = writeWorkbook({
    styles: stylesOf(["General", "0.000%"]),
    sheets: [
      `<sheetData><row r="1">${inline("A1", "Heat")}${inline("B1", "C")}${inline("C1", "Cr %")}</row>
       <row r="2">${inline("A2", "H4471")}<c r="B2" s="1"><v>2.1E-4</v></c><c r="C2" s="1"><v>0.1812</v></c></row></sheetData>`,
    ],
  });
  expect(tell(readCertificate(await readHere(bytes), 0))).toEqual(["H4471: C 0.021 %", "H4471: Cr 18.120 %"]);
});

test("a number format with figures of its own is told, and neither figure is read", async () => {
  const bytes = writeWorkbook({
    styles: stylesOf(['"0.021"']),
    sheets: ['<sheetData><row r="1"><c r="A1" s="0"><v>0.045</v></c></row></sheetData>'],
  });
  const { tables, doubts } = await readHere(bytes);
  expect(tables[0]!.cells).toMatchObject([{ text: "0.021", hidden: true }]);
  expect(doubts).toMatchObject([{ code: "format-misleads", place: { cell: "A1" } }]);
  expect(doubts[0]!.message).toContain("0.045");
});

test("what is struck out beside a correction is left out and said", async () => {
  const bytes = writeWorkbook({
    strings: '<si><r><rPr><strike/></rPr><t>0.040</t></r><r><t xml:space="preserve"> 0.030</t></r></si>',
    sheets: [`<sheetData><row r="1"><c r="A1" t="s"><v>0</v></c></row></sheetData>`],
  });
  const { tables, doubts } = await readHere(bytes);
  expect(tables[0]!.cells[0]!.text).toBe("0.030");
  expect(doubts[0]).toMatchObject({ code: "partly-struck", message: expect.stringContaining("0.040") });
});

test("a measured length is no date, a date of the 1904 calendar is the right one", async () => {
  const bytes = writeWorkbook({
    styles: stylesOf(["0.00\\ \\m\\m", "yyyy-mm-dd"]),
    from1904: true,
    sheets: [`<sheetData><row r="1"><c r="A1" s="0"><v>27.4</v></c><c r="B1" s="1"><v>43894</v></c></row></sheetData>`],
  });
  const { tables } = await readHere(bytes);
  expect(tables[0]!.cells).toMatchObject([
    { text: "27.40 mm", number: "27.4", formatUnit: "mm" },
    { text: "2024-03-05", date: "2024-03-05" },
  ]);
});

test("pictures are said to be unread", async () => {
  const bytes = writeWorkbook({
    sheets: ["<sheetData/>"],
    extraParts: [{ name: "xl/media/image1.png", content: "x" }],
  });
  expect((await readHere(bytes)).notes).toEqual(["1 pictures in the workbook were not read"]);
});

const broken: readonly [name: string, sheet: string, code: string][] = [
  ["two cells in one place", `<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>`, "damaged"],
  ["a cell in another row's place", `<row r="1"><c r="A2"><v>1</v></c></row>`, "damaged"],
  ["a row beyond the sheet", `<row r="1048577"><c><v>1</v></c></row>`, "damaged"],
  ["a text that is not there", `<row r="1"><c r="A1" t="s"><v>7</v></c></row>`, "damaged"],
];

test.each(broken)("%s is refused", async (_, rows, code) => {
  const bytes = writeWorkbook({ sheets: [`<sheetData>${rows}</sheetData>`] });
  await expect(readHere(bytes)).rejects.toMatchObject({ code });
});

test("comments stand with their cells, and text boxes are told, neither silently passed over", async () => {
  const relation = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/${type}" Target="${target}"/>`;
  const bytes = writeWorkbook({
    sheets: [`<sheetData><row r="1">${inline("A1", "H4471")}<c r="B1"><v>0.021</v></c></row></sheetData>`],
    extraParts: [
      {
        name: "xl/worksheets/_rels/sheet1.xml.rels",
        content: `<Relationships>${relation("c", "comments", "../comments1.xml")}${relation("d", "drawing", "../drawings/drawing1.xml")}</Relationships>`,
      },
      {
        name: "xl/comments1.xml",
        content: `<comments><authors><author>A</author></authors><commentList>
          <comment ref="B1" authorId="0"><text><r><rPr><b/></rPr><t>M. Aurland:</t></r><r><t xml:space="preserve">
product  analysis</t></r></text></comment><comment ref="D9"><text><t>${"long ".repeat(100)}</t></text></comment></commentList></comments>`,
      },
      {
        name: "xl/drawings/drawing1.xml",
        content:
          "<xdr:wsDr><xdr:txBody><a:p><a:r><a:t>PRELI</a:t></a:r><a:r><a:t>MINARY</a:t></a:r></a:p><a:p/></xdr:txBody></xdr:wsDr>",
      },
    ],
  });
  const { tables, doubts } = await readHere(bytes);
  expect(tables[0]!.cells.map(({ comment }) => comment)).toEqual([undefined, "M. Aurland: product analysis"]);
  expect(doubts.map(({ code, place }) => [code, place])).toEqual([
    ["cell-comment", { sheet: "Sheet1", cell: "B1" }],
    ["cell-comment", { sheet: "Sheet1", cell: "D9" }],
    ["shape-text", undefined],
  ]);
  expect(doubts[1]!.message.length).toBeLessThan(300);
  expect(doubts[2]!.message).toContain('"PRELIMINARY"');
});
