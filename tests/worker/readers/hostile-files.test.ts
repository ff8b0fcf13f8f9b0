import { crc32 } from "node:zlib";
import { afterEach, expect, test } from "vitest";
import { readHere } from "./read-in-process.js";
import { writeWorkbook } from "./write-workbook.js";
import { repeatDeflated, writeZip } from "./write-zip.js";

/** Small enough to be spent quickly; the files are as many times too big as the real ones would be. */
const BUDGETS = {
  partBytes: 4_000_000,
  inflatedBytes: 8_000_000,
  rows: 5_000,
  cells: 20_000,
  sharedStrings: 10_000,
  merges: 500,
};

const MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
const SHEET_START = `<worksheet ${MAIN}><sheetData>`;
const SHEET_END = "</sheetData></worksheet>";
const EMPTY_SHEET = "<sheetData/>";
const GIGABYTE_OF_BLANKS = repeatDeflated(" ".repeat(1_000_000), 1_000, SHEET_START, SHEET_END);
const utf16 = (text: string) => Buffer.from(text, "utf16le");
const compoundFile = (stream: string) =>
  Buffer.concat([Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]), Buffer.alloc(504), utf16(stream)]);
const tiny = writeWorkbook({ sheets: [`<sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData>`] });

const refused: readonly [name: string, bytes: Buffer, code: string][] = [
  ["a workbook cut in half", tiny.subarray(0, tiny.length / 2), "truncated"],
  ["a gigabyte of blanks in a sheet", writeWorkbook({ sheets: [GIGABYTE_OF_BLANKS] }), "too-large-inflated"],
  [
    "three sheets that are too much together",
    writeWorkbook({ sheets: [1, 2, 3].map(() => repeatDeflated(" ".repeat(1_000_000), 3, SHEET_START, SHEET_END)) }),
    "too-large-inflated",
  ],
  [
    "a row too many",
    writeWorkbook({
      sheets: [repeatDeflated("<row><c><v>1</v></c></row>", 5_001, SHEET_START, SHEET_END)],
    }),
    "too-many-rows",
  ],
  [
    "too many cells in few rows",
    writeWorkbook({
      sheets: [repeatDeflated(`<row>${"<c><v>1</v></c>".repeat(1_000)}</row>`, 30, SHEET_START, SHEET_END)],
    }),
    "too-many-cells",
  ],
  [
    "half a million shared strings",
    writeWorkbook({
      sheets: [EMPTY_SHEET],
      strings: repeatDeflated("<si/>".repeat(1_000), 500, `<sst ${MAIN}>`, "</sst>"),
    }),
    "too-many-strings",
  ],
  [
    "3,000 parts",
    writeZip(Array.from({ length: 3_000 }, (_, index) => ({ name: `part${index}`, content: "" }))),
    "too-many-parts",
  ],
  [
    "5,000 merges",
    writeWorkbook({ sheets: [`${EMPTY_SHEET}<mergeCells>${'<mergeCell ref="A1:B2"/>'.repeat(5_000)}</mergeCells>`] }),
    "too-many-cells",
  ],
  [
    "entities that multiply",
    writeWorkbook({
      sheets: [Buffer.from(`<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><worksheet>&b;</worksheet>`)],
    }),
    "document-type-refused",
  ],
  ["an old .xls workbook", compoundFile("Workbook"), "legacy-workbook"],
  ["an encrypted workbook", compoundFile("EncryptedPackage"), "encrypted"],
  ["an old Word document", compoundFile("WordDocument"), "unsupported-type"],
  ["a Word document", writeZip([{ name: "word/document.xml", content: "<w/>" }]), "unsupported-type"],
  ["an archive of something else", writeZip([{ name: "readme.txt", content: "x" }]), "unsupported-type"],
  ["a picture of an unknown kind", Buffer.from("GIF89a\u0001\u0000"), "unsupported-type"],
  [
    "bytes without meaning",
    Buffer.from(Array.from({ length: 600 }, (_, index) => (index * 7919) % 256)),
    "unsupported-type",
  ],
  ["a PNG of a billion pixels", png(40_000, 30_000, "IDAT", "IEND"), "too-large"],
  ["a PNG without a picture", png(40, 30, "IEND"), "damaged"],
  ["a PNG cut off", png(40, 30, "IDAT"), "truncated"],
  ["a PNG with a wrong checksum", Buffer.concat([png(40, 30), Buffer.from("\0\0\0\0IEND????", "latin1")]), "damaged"],
  ["a JPEG cut off", Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46]), "truncated"],
  ["a JPEG without a picture", Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 4, 0x4a, 0x46, 0xff, 0xd9]), "damaged"],
  ["a TIFF without a picture", tiff([[8, 0, 0]]), "damaged"],
  [
    "a TIFF whose pages follow each other in a ring",
    tiff([
      [8, 1, 26],
      [26, 1, 8],
    ]),
    "damaged",
  ],
  ["a TIFF whose page lies beyond its end", tiff([[8, 1, 9_999]]), "damaged"],
  ["JSON nested 100,000 deep", Buffer.from("[".repeat(100_000)), "too-deep"],
  ["JSON cut off", Buffer.from('{"heats": [{"heat": "H4471"'), "truncated"],
  ["JSON with a key twice", Buffer.from('{"a": 1, "a": 2}'), "damaged"],
  ["XML nested 100,000 deep", Buffer.from("<a>".repeat(100_000)), "too-deep"],
  ["XML with a document type", Buffer.from('<?xml version="1.0"?><!DOCTYPE a><a/>'), "document-type-refused"],
];

/** Read without complaint, as far as there is something to read. */
const harmless: readonly [name: string, bytes: Buffer][] = [
  [
    "a merge over the whole sheet",
    writeWorkbook({
      sheets: [
        `<sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>`,
      ],
    }),
  ],
  [
    "a validation over the whole sheet",
    writeWorkbook({
      sheets: [`${EMPTY_SHEET}<dataValidations><dataValidation sqref="A1:XFD1048576" type="list"/></dataValidations>`],
    }),
  ],
  [
    "one far cell",
    writeWorkbook({ sheets: [`<sheetData><row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>`] }),
  ],
  [
    "keys named like JavaScript's own",
    Buffer.from('{"__proto__": {"polluted": 1}, "constructor": {"prototype": {"polluted": 1}}}'),
  ],
  ["a CSV whose fields are named so", Buffer.from("__proto__,constructor\n1,2\n3,4\n")],
  ["XML whose elements are named so", Buffer.from('<a __proto__="1"><__proto__>2</__proto__><constructor/></a>')],
];

// Read in this process, without the switch that takes __proto__ away from the child: a document must not get through to it even so.
const untouched = Object.getOwnPropertyNames(Object.prototype);
afterEach(() => {
  expect(Object.getOwnPropertyNames(Object.prototype)).toEqual(untouched);
  expect({}).not.toHaveProperty("polluted");
});

test.each(refused)("%s is refused", async (_, bytes, code) => {
  await expect(readHere(bytes, BUDGETS)).rejects.toMatchObject({ name: "ReadFailure", code });
});

test.each(harmless)("%s does no harm", async (_, bytes) => {
  expect(await readHere(bytes, BUDGETS)).toHaveProperty("reader");
});

function png(width: number, height: number, ...chunks: readonly string[]): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  return Buffer.concat([
    Buffer.from("\x89PNG\r\n\x1a\n", "latin1"),
    pngChunk("IHDR", head),
    ...chunks.map((name) => pngChunk(name, Buffer.alloc(name === "IDAT" ? 9 : 0))),
  ]);
}

function pngChunk(name: string, content: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name), content]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(content.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, sum]);
}

/** Directories as [offset, entries, offset of the next]. */
function tiff(directories: readonly (readonly [at: number, entries: number, next: number])[]): Buffer {
  const bytes = Buffer.alloc(64);
  bytes.write("II*\0\x08", "latin1");
  for (const [at, entries, next] of directories) {
    bytes.writeUInt16LE(entries, at);
    bytes.writeUInt32LE(next, at + 2 + 12 * entries);
  }
  return bytes;
}
