import { describe, expect, it } from "vitest";
import type { ReadDocument } from "../../../core/recogniser/cells.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawTable } from "./draw-table.js";
import { tell } from "./tell.js";

/** A page or an e-mail: one table a drawing, as readers of pages hand it over. */
function page(drawing: string, disputed = false): ReadDocument {
  return { reader: "text", tables: [{ ...drawTable(drawing), ...(disputed && { disputed }) }], doubts: [] };
}

function told(drawing: string, disputed = false) {
  const certificate = recognise(page(drawing, disputed), 0);
  return { readings: tell(certificate), doubts: certificate.doubts.map(({ code }) => code) };
}

describe("a line of titles, each with its value behind it", () => {
  it.each([
    ["elements in one cell", "C 0.019 Si 0.51 Mn 1.44", ["H1: C 0.019 %", "H1: Si 0.51 %", "H1: Mn 1.44 %"]],
    [
      "decimal commas and commas between",
      "C 0,019, Si 0,51, Mn 1,44",
      ["H1: C 0.019 %", "H1: Si 0.51 %", "H1: Mn 1.44 %"],
    ],
    ["equals signs", "C=0.019 Si = 0.51", ["H1: C 0.019 %", "H1: Si 0.51 %"]],
    [
      "colons, units and columns by chance",
      "Rp0,2: | 265 N/mm² | Rm: 580 | N/mm²",
      ["H1: Rp0.2 265 N/mm2", "H1: Rm 580 N/mm2"],
    ],
    ["per cent behind the values", "C: 0.019% Si: 0.51%", ["H1: C 0.019 %", "H1: Si 0.51 %"]],
    [
      "the analysis before them",
      "Product analysis: C 0.019 Si 0.51",
      ["H1: C 0.019 % product", "H1: Si 0.51 % product"],
    ],
    [
      "a set with its temperature",
      "KV -196 °C: 88 / 91 / 104 J",
      ["H1: KV 88 J -196 °C", "H1: KV 91 J -196 °C", "H1: KV 104 J -196 °C"],
    ],
  ])("%s", (_name, line, readings) => {
    const { readings: read, doubts } = told(`Heat No.: H1\n${line}`, true);
    expect(read).toEqual(readings);
    expect(doubts.filter((code) => code !== "table-disputed")).toEqual([]);
  });

  it("is not sought in rows of a table", () => {
    const drawing = "Heat | Rp 0,2 | Rp 1,0 | Rm\n | MPa | MPa | MPa\nH1 | 265 | 301 | 580";
    expect(told(drawing).readings).toEqual(["H1: Rp0.2 265 MPa", "H1: Rp1.0 301 MPa", "H1: Rm 580 MPa"]);
  });

  it("is doubted, not passed over, where something of it is left over", () => {
    const { readings, doubts } = told("Heat No.: H1\nC 0.019 and as we told you Si 0.51 or so");
    expect(readings).toEqual([]);
    expect(doubts).toContain("numbers-unread");
  });

  it("leaves a single title with a number alone unless a colon or a unit ties them", () => {
    expect(told("Heat No.: H1\nNi 36").readings).toEqual([]);
    expect(told("Heat No.: H1\nNi: 8.1 %").readings).toEqual(["H1: Ni 8.1 %"]);
  });
});
