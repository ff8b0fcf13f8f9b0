import { describe, expect, it } from "vitest";
import { joinHeats } from "../../../core/certificate/join-heats.js";
import type { ReadDocument } from "../../../core/recogniser/cells.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";

const drawing = "Heat | C % | Mn %\nH4471 | 0.021 | 1.52";

function scanned(confidenceOf: (text: string) => number): ReadDocument {
  const { tables } = drawDocument(drawing);
  return {
    reader: "image",
    doubts: [],
    tables: tables.map((table) => ({
      ...table,
      cells: table.cells.map((cell) => ({ ...cell, confidence: confidenceOf(cell.text) })),
    })),
  };
}

describe("confidence", () => {
  it("of a reading is that of the least certain cell that its meaning rests on", () => {
    const [heat] = recognise(
      scanned((text) => (text === "C %" ? 0.7 : text === "1.52" ? 0.9 : 0.97)),
      0,
    ).heats;
    expect(heat!.readings.map(({ quantity, confidence }) => [quantity, confidence])).toEqual([
      ["C", 0.7],
      ["Mn", 0.9],
    ]);
  });

  it("of a heat number that only OCR read is below the threshold, until a text document has the same", () => {
    const scan = recognise(
      scanned(() => 0.97),
      0,
    );
    expect(scan.heats[0]!.heat.confidence).toBe(0.8);
    const alone = joinHeats([{ document: 0, certificate: scan }]);
    expect(alone.heats[0]!.confidence).toBe(0.8);
    const confirmed = joinHeats([
      { document: 0, certificate: scan },
      { document: 1, certificate: recognise(drawDocument("Heat | KV J | Zone\nh-4471 | 80 | weld"), 1) },
    ]);
    expect(confirmed.heats).toHaveLength(1);
    expect(confirmed.heats[0]!.confidence).toBe(1);
  });

  it("of a table that could be rebuilt in two ways is below the threshold, with a doubt", () => {
    const document = drawDocument(drawing);
    const certificate = recognise(
      { ...document, tables: document.tables.map((table) => ({ ...table, disputed: true })) },
      0,
    );
    expect(certificate.heats[0]!.readings.every(({ confidence }) => confidence < 0.85)).toBe(true);
    expect(certificate.doubts.map(({ code }) => code)).toEqual(["table-disputed"]);
  });

  it("nothing is read from hidden sheets, hidden cells and struck cells, and each is said", () => {
    const [table] = drawDocument("Heat | C % | Mn % | P %\nH4471 | (?0.021) | ~1.52~ | 0.03").tables;
    const certificate = recognise(
      { reader: "xlsx", doubts: [], tables: [table!, { ...table!, name: "old", hidden: true }] },
      0,
    );
    expect(certificate.heats[0]!.readings.map(({ quantity }) => quantity)).toEqual(["P"]);
    expect(certificate.doubts.map(({ code }) => code)).toEqual(["cell-hidden", "cell-struck", "sheet-hidden"]);
  });
});
