import { expect, test } from "vitest";
import type { JsonTree } from "../../../core/recogniser/cells.js";
import { createUnpacker, type PackedDocument, packedLines } from "../../../worker/readers/packed-document.js";

const COUNT = 5_000;
const all = <T>(make: (index: number) => T): T[] => Array.from({ length: COUNT }, (_, index) => make(index));

const packed: PackedDocument = {
  reader: "xlsx",
  doubts: [],
  tables: [
    { name: "empty", rows: [], columns: [], texts: [], numbers: [], places: "empty", marks: [], markSets: [{}] },
    {
      name: "Curve",
      rows: all((index) => index),
      columns: all(() => 1),
      texts: all((index) => `${index}\n\u2028`),
      numbers: all((index) => (index % 2 === 0 ? 1 : 0)),
      places: "Curve",
      marks: all((index) => (index === COUNT - 1 ? 1 : 0)),
      markSets: [{}, { bold: true }],
    },
    {
      name: "Lines",
      rows: all((index) => index),
      columns: all(() => 0),
      texts: all(String),
      numbers: all((index) => `${index}.0`),
      places: all((index) => index + 1),
      marks: all(() => 0),
      markSets: [{}],
    },
  ],
};

test("a document goes through its lines unchanged, whatever its cells hold", () => {
  const lines = [...packedLines(packed)];
  expect(lines.length).toBeGreaterThan(4);
  expect(lines.every((line) => !line.includes("\n"))).toBe(true);
  const unpacker = createUnpacker();
  for (const line of lines) unpacker.take(line);
  const { reader, tables } = unpacker.finish();
  expect([reader, ...tables.map(({ name, cells }) => `${name} ${cells.length}`)]).toEqual([
    "xlsx",
    "empty 0",
    `Curve ${COUNT}`,
    `Lines ${COUNT}`,
  ]);
  expect(tables[1]!.cells.at(-1)).toEqual({
    row: COUNT - 1,
    column: 1,
    text: `${COUNT - 1}\n\u2028`,
    place: { sheet: "Curve", cell: `B${COUNT}` },
    confidence: 1,
    bold: true,
  });
  expect(tables[2]!.cells[2_000]).toMatchObject({ number: "2000.0", place: { line: 2_001, column: 1 } });
});

test("halves of surrogate pairs and U+0000 become U+FFFD, and nothing that only looks like one does", () => {
  const texts = ["\ud800", "a\u0000b", "a\udfffb", "\ud83d\ude00", "\\ud800", "\\\ud800", "\\u0000 \\\\ud800"];
  const numbers = texts.map(() => 0 as const);
  const column = texts.map((_, index) => index);
  const table = {
    name: "t",
    rows: column,
    columns: column,
    texts,
    numbers,
    places: column,
    marks: column.map(() => 0),
  };
  const tree = { kind: "object", entries: [["\udabc", { kind: "string", text: "\udabc" }]] } as unknown as JsonTree;
  const unpacker = createUnpacker();
  for (const line of packedLines({ reader: "json", doubts: [], tables: [{ ...table, markSets: [{}] }], tree })) {
    unpacker.take(line);
  }
  const read = unpacker.finish();
  expect(read.tables[0]!.cells.map(({ text }) => text)).toEqual([
    "\ufffd",
    "a\ufffdb",
    "a\ufffdb",
    "\ud83d\ude00",
    "\\ud800",
    "\\\ufffd",
    "\\u0000 \\\\ud800",
  ]);
  expect(JSON.stringify(read.tree)).toBe(JSON.stringify(tree).replaceAll("\\udabc", "\ufffd"));
});
