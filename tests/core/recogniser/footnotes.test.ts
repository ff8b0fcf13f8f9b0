import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { ReadDocument } from "../../../core/recogniser/cells.js";
import { findFootnotes, isHarmless, splitMark, splitTitleMark } from "../../../core/recogniser/footnotes.js";
import { readNumber } from "../../../core/recogniser/read-number.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument, drawTable } from "./draw-table.js";

describe("a mark behind a value", () => {
  test.each([
    ["0.021*", "0.021", "*"],
    ["0.021 **", "0.021", "**"],
    ["0.021*)", "0.021", "*"],
    ["0,021¹", "0,021", "1"],
    ["0.021¹)", "0.021", "1"],
    ["0.021 ¹²", "0.021", "12"],
    ["0.021 1)", "0.021", "1"],
    ["45 J²", "45 J", "2"],
    ["0.021 %†", "0.021 %", "†"],
    ["98/102/95*", "98/102/95", "*"],
  ])("%s", (text, value, mark) => {
    expect(splitMark(text)).toEqual({ value, mark });
  });

  test.each(["0.021", "291 N/mm²", "120 J/cm²", "2.1 x 10²", "2.1 x 10⁻²", "(12)", "0.0211)", "*", "1)", "C¹"])(
    "none in %s",
    (text) => {
      expect(splitMark(text)).toEqual({ value: text });
    },
  );

  test("changes no figure of the value, whatever the mark", () => {
    const value = fc.double({ min: 0.001, max: 999, noNaN: true }).map((number) => number.toPrecision(3));
    const mark = fc.constantFrom("*", "**", "†", "¹", "²", "⁹)", "*)", " 3)");
    fc.assert(
      fc.property(value, mark, (number, sign) => {
        expect(readNumber(number + sign, "point")).toEqual({
          ...readNumber(number, "point"),
          mark: expect.any(String),
        });
      }),
    );
  });

  test.each(["0.0211)", "451)", "<0.0021)"])("%s may end in a figure of the value or in a mark", (text) => {
    expect(readNumber(text, "unknown")).toEqual({ kind: "mark-unclear" });
  });
});

test.each([
  ["Mo *)", "Mo", "*"],
  ["Mo ²)", "Mo", "2"],
  ["Rm†", "Rm", "†"],
  ["C**", "C", "**"],
  ["J/cm²", "J/cm²", undefined],
])("title %s", (text, title, mark) => {
  expect(splitTitleMark(text)).toEqual({ title, ...(mark && { mark }) });
});

test("notes stand behind their mark, in its cell or in the next", () => {
  const tables = [
    drawTable("* product analysis\n1) by OES|\n¹) after repair\n2 of the laboratory\n†|of heat B2\n**\n*0.021"),
  ];
  expect([...findFootnotes(tables)]).toEqual([
    ["*", ["product analysis"]],
    ["1", ["by OES", "after repair"]],
    ["2", ["of the laboratory"]],
    ["†", ["of heat B2"]],
  ]);
});

test.each([
  ["ICP-OES", true],
  ["by ICP-OES according to ASTM E1086", true],
  ["EN ISO 14284", true],
  ["Bestimmt durch Spektrometrie, nicht akkreditiert", true],
  ["at room temperature", true],
  ["see remark 4", false],
  ["product analysis", false],
  ["by OES, product analysis", false],
  ["EN ISO 14284, heat 4711", false],
  ["x 10", false],
])("note %j is harmless: %s", (note, harmless) => {
  expect(isHarmless(note)).toBe(harmless);
});

describe("what a mark does to a reading", () => {
  const paper = (carbon: string, note: string, title = "C") => ({
    reader: "csv" as const,
    doubts: [],
    tables: [drawTable(`Heat|${title}|Cr\nH4471|${carbon}|18.12\n${note}`)],
  });
  const carbonOf = (...words: Parameters<typeof paper>) => {
    const { heats, doubts } = recognise(paper(...words), 0);
    const reading = heats[0]?.readings.find(({ quantity }) => quantity === "C");
    return { reading, codes: doubts.map(({ code }) => code) };
  };

  test.each([
    ["0.021", "", 0.95, []],
    ["0.021*", "* by ICP-OES", 0.95, []],
    ["0.021*", "* product analysis", 0.5, ["value-marked"]],
    ["0.021*", "", 0.5, ["value-marked"]],
    ["0.021¹", "** by ICP-OES", 0.5, ["value-marked"]],
  ])("%s with the note %j", (carbon, note, confidence, codes) => {
    expect(carbonOf(carbon, note)).toMatchObject({ reading: { value: { digits: 21n }, confidence }, codes });
  });

  test.each([
    ["", 0.95, []],
    ["* by ICP-OES", 0.95, []],
    ["* of the welded joint", 0.5, ["value-marked"]],
  ])("under a marked title with the note %j", (note, confidence, codes) => {
    expect(carbonOf("0.021", note, "C*")).toMatchObject({ reading: { confidence }, codes });
  });

  test("shows what the note says", () => {
    expect(carbonOf("0.021*", "* of heat B2").reading?.notes).toContain("marked *: of heat B2");
  });
});

test("a comment on a cell counts as its note does: a value or a heat with one is not relied on", () => {
  const withComment = (text: string, comment: string): ReadDocument => {
    const document = drawDocument("Heat | C | Cr\nH4471 | 0.021 | 18.12");
    const tables = document.tables.map((table) => ({
      ...table,
      cells: table.cells.map((cell) => (cell.text === text ? { ...cell, comment } : cell)),
    }));
    return { ...document, tables };
  };
  const carbon = (document: ReadDocument) => recognise(document, 0).heats[0]!.readings[0]!;
  expect(carbon(withComment("0.021", "product analysis"))).toMatchObject({
    confidence: 0.5,
    notes: expect.arrayContaining(["comment: product analysis"]),
  });
  expect(carbon(withComment("0.021", "ICP-OES"))).toMatchObject({ confidence: 0.95 });
  expect(recognise(withComment("H4471", "see H4472"), 0).heats[0]!.heat.confidence).toBe(0.5);
});
