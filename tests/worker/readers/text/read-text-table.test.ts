import { expect, test } from "vitest";
import { asRows, readHere } from "../read-in-process.js";

const ROWS = [
  ["Heat", "C", "Si", "Remark"],
  ["H4471", "0.024", "0.41", "plate"],
  ["H4472", "0.019", "0.50", "weld wire"],
];
const BOM = "\ufeff";
const utf16be = (text: string) => Buffer.from(text, "utf16le").swap16();

for (const delimiter of [",", ";", "\t", "|"]) {
  for (const decimalSign of [".", ","]) {
    test(`fields parted by ${JSON.stringify(delimiter)}, decimal ${decimalSign}`, async () => {
      const rows = ROWS.map((row) => row.map((text) => text.replace(".", decimalSign)));
      const quoted = rows.map((row) => row.map((text) => (text.includes(delimiter) ? `"${text}"` : text)));
      const { tables, doubts, notes } = await readHere(quoted.map((row) => row.join(delimiter)).join("\n"));
      expect(asRows(tables[0]!.cells)).toEqual(rows);
      expect(doubts).toEqual([]);
      expect(notes![0]).toContain(decimalSign === "." ? "decimal point" : "decimal comma");
    });
  }
}

const TEXT = "Chargennr.;Kerbschlagarbeit;°C\nH4471;112,5;-196\n";
const encodings: readonly [name: string, bytes: Buffer][] = [
  ["UTF-8", Buffer.from(TEXT)],
  ["UTF-8", Buffer.from(BOM + TEXT)],
  ["UTF-16LE", Buffer.from(BOM + TEXT, "utf16le")],
  ["UTF-16LE", Buffer.from(TEXT, "utf16le")],
  ["UTF-16BE", utf16be(BOM + TEXT)],
  ["UTF-16BE", utf16be(TEXT)],
  ["Windows-1252", Buffer.from(TEXT, "latin1")],
];

test.each(encodings)("%s", async (encoding, bytes) => {
  const { tables, notes } = await readHere(bytes);
  expect(asRows(tables[0]!.cells)[0]).toEqual(["Chargennr.", "Kerbschlagarbeit", "°C"]);
  expect(notes![0]).toContain(encoding);
});

test("places are lines of the file and numbers of fields, across quoted line breaks and any line ending", async () => {
  const { tables } = await readHere('Heat;Remark\r\nH1;"two\r\nlines"\r\n\r\nH2;0,5\rH3;0,6\n');
  expect(tables[0]!.cells.map(({ text, row, place }) => [text, row, place])).toEqual([
    ["Heat", 0, { line: 1, column: 1 }],
    ["Remark", 0, { line: 1, column: 2 }],
    ["H1", 1, { line: 2, column: 1 }],
    ["two\nlines", 1, { line: 2, column: 2 }],
    ["H2", 3, { line: 5, column: 1 }],
    ["0,5", 3, { line: 5, column: 2 }],
    ["H3", 4, { line: 6, column: 1 }],
    ["0,6", 4, { line: 6, column: 2 }],
  ]);
});

test("a spreadsheet program's sep= line decides", async () => {
  const { tables, doubts } = await readHere("sep=;\n0,1;0,2\n0,3;0,4\n");
  expect(asRows(tables[0]!.cells)).toEqual([[], ["0,1", "0,2"], ["0,3", "0,4"]]);
  expect(doubts).toEqual([]);
});

test("two delimiters that explain the file alike are a doubt", async () => {
  const { doubts } = await readHere("a;b\tc\nd;e\tf\n");
  expect(doubts).toMatchObject([{ code: "ambiguous-dialect", place: { line: 1, column: 1 } }]);
});

const pairs: readonly [text: string, doubted: boolean][] = [
  ["1,234\n1,251\n1,270\n", true], // One column of decimal commas, or two of whole numbers.
  ["Time,Load\n1,234\n1,251\n", false],
  ["1,234,5\n1,251,6\n", false],
  ["1,23.4\n1,25.1\n", false],
];

test.each(pairs)("pairs of whole numbers without a heading may be decimals: %j", async (text, doubted) => {
  const { doubts } = await readHere(text);
  expect(doubts.map(({ code }) => code)).toEqual(doubted ? ["ambiguous-dialect"] : []);
});

test("a machine's export with a head of single fields", async () => {
  const head = "[Test]\nOperator\nSpecimen;3\n\nTime;Load\n(s);(kN)\n";
  const { reader, tables } = await readHere(`${head}${"0,1;12,53\n".repeat(30)}`);
  expect(reader).toBe("csv");
  expect(asRows(tables[0]!.cells)[6]).toEqual(["0,1", "12,53"]);
});

test("prose stays lines; values under each other are a table, at their line and column", async () => {
  const { reader, tables } = await readHere(
    [
      "Dear colleagues,",
      "please find below, as agreed, the values of heat H4471.",
      "",
      "Heat No.    C       Si      Mn",
      "H4471       0.024   0.41    1.52",
      "H4472       0.019           1.48",
      "",
      "Heat No.: H4471",
    ].join("\n"),
  );
  expect(reader).toBe("text");
  expect(tables.map(({ cells }) => asRows(cells))).toEqual([
    [["Dear colleagues,"], ["please find below, as agreed, the values of heat H4471."]],
    [
      ["Heat No.", "C", "Si", "Mn"],
      ["H4471", "0.024", "0.41", "1.52"],
      ["H4472", "0.019", "", "1.48"],
    ],
    [["Heat No.: H4471"]],
  ]);
  expect(tables[1]!.cells.at(-1)!.place).toEqual({ line: 6, column: 29 });
});

test("texts that look like formulas are texts", async () => {
  const { tables } = await readHere("Heat;Remark\nH1;=1+1\nH2;-196\n");
  expect(asRows(tables[0]!.cells)[1]).toEqual(["H1", "=1+1"]);
});

test.each([";", "\t", "|"])("headings between the rows hide no fields parted by %j", async (delimiter) => {
  const rows = [
    ["Heat", "H4471"],
    ["Charpy V, -196 °C"],
    ["Specimen", "KV 1 J", "KV 2 J"],
    ["Weld metal"],
    ["S1", "78", "49"],
    ["HAZ"],
    ["S2", "71", "47"],
  ];
  const { reader, tables } = await readHere(rows.map((row) => row.join(delimiter)).join("\n"));
  expect(reader).toBe("csv");
  expect(asRows(tables[0]!.cells)).toEqual(rows);
});
