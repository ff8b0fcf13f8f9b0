import { describe, expect, it } from "vitest";
import { applyCorrections, type Corrections } from "../../../core/certificate/corrections.js";
import { joinHeats } from "../../../core/certificate/join-heats.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "../recogniser/draw-table.js";

function join(...drawings: readonly string[]) {
  return joinHeats(
    drawings.map((drawing, document) => ({ document, certificate: recognise(drawDocument(drawing), document) })),
  );
}

describe("joinHeats", () => {
  it.each([
    ["H4471", "h4471"],
    ["H 4471", "H4471"],
    ["H-4471", "H4471"],
    ["H4471", "H–4471"],
  ])("joins %s with %s", (mill, laboratory) => {
    const { heats, doubts } = join(
      `Heat | C % | Mn %\n${mill} | 0.02 | 1.5`,
      `Heat | Zone | KV J\n${laboratory} | weld | 80`,
    );
    expect(heats).toHaveLength(1);
    expect(heats[0]).toMatchObject({ heat: mill, documents: [0, 1], confidence: 1 });
    expect(heats[0]!.readings.map(({ quantity }) => quantity)).toEqual(["C", "Mn", "KV"]);
    expect(doubts).toEqual([]);
  });

  it.each([
    ["H4O71", "H4071"],
    ["HI471", "H1471"],
    ["S4471", "54471"],
    ["H4471", "Н4471"], // Cyrillic En
    ["P0471", "ΡO471"], // Greek Rho
  ])("keeps %s and %s apart, with a doubt at each that shows both", (mill, laboratory) => {
    const { heats, doubts } = join(
      `Heat | C % | Mn %\n${mill} | 0.02 | 1.5`,
      `Heat | Zone | KV J\n${laboratory} | weld | 80`,
    );
    expect(heats).toHaveLength(2);
    expect(doubts.map(({ code, heat }) => [code, heat])).toEqual([
      ["heat-near-match", mill],
      ["heat-near-match", laboratory],
    ]);
    expect(doubts[0]!.message).toContain(`${mill} and ${laboratory}`);
  });

  it.each([
    ["H4471", "H4471/2", true],
    ["H4471", "h 4471/02", true],
    ["H4471", "H4471.A", true],
    ["H4471", "H4471/1234", false],
    ["H4471/1", "H4471/2", false],
    ["H4471", "H44712", false],
  ])("keeps %s and its piece %s apart, with a doubt at each: %s", (heat, piece, related) => {
    const { heats, doubts, relatives } = join(
      `Heat | C % | Mn %\n${heat} | 0.02 | 1.5`,
      `Heat | Zone | KV J\n${piece} | weld | 80`,
    );
    expect(heats).toHaveLength(2);
    expect(doubts.map(({ code }) => code)).toEqual(related ? ["heat-piece", "heat-piece"] : []);
    expect(relatives.get(heat)?.map((other) => other.heat)).toEqual(related ? [piece] : undefined);
  });

  it("calls a heat as a person corrected it, not as it was misread", () => {
    const sha256 = "0".repeat(64);
    const read = recognise(drawDocument("Heat | C % | Mn %\nH4A71 | 0.02 | 1.5"), 0);
    const { document: _document, ...evidence } = read.heats[0]!.heat.evidence;
    const items = [{ document: sha256, evidence, quantity: "heat", value: "H4471" }] as Corrections["items"];
    const certificate = applyCorrections(read, 0, sha256, {
      corrections: 1,
      by: "I. Brandt",
      date: "2026-03-09",
      items,
    });
    expect(joinHeats([{ document: 0, certificate }]).heats.map(({ heat }) => heat)).toEqual(["H4471"]);
  });

  it("calls a heat by its number alone where words stand before it", () => {
    const { heats } = join("Heat | C % | Mn %\nHeat No.: H4471\n | 0.02 | 1.5\nHeat No.: H4472\n | 0.03 | 1.4");
    expect(heats.map(({ heat }) => heat)).toEqual(["H4471", "H4472"]);
  });

  it("keeps both chemistries of one heat that two papers tell differently", () => {
    const { heats } = join("Heat | C % | Mn %\nH1 | 0.02 | 1.5", "Heat | C % | Mn %\nH1 | 0.04 | 1.5");
    expect(heats[0]!.readings.filter(({ quantity }) => quantity === "C")).toHaveLength(2);
  });
});
