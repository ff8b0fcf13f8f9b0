import { describe, expect, test } from "vitest";
import { CONFIDENCE_THRESHOLD } from "../../../core/certificate/certificate.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

/** "¶" breaks the line inside a cell. */
const read = (...lines: string[]) => {
  const { tables, ...document } = drawDocument(lines.join("\n"));
  const broken = tables.map((table) => ({
    ...table,
    cells: table.cells.map((cell) => ({ ...cell, text: cell.text.replace("¶", "\n") })),
  }));
  return recognise({ ...document, tables: broken }, 0);
};
const sure = (...lines: string[]) =>
  read(...lines).heats.flatMap(({ heat, readings }) =>
    readings
      .filter(({ confidence }) => Math.min(confidence, heat.confidence) >= CONFIDENCE_THRESHOLD)
      .map(({ quantity, printed }) => `${heat.value} ${quantity} ${printed}`),
  );

test.each(["0.021 (max 0.030)", "0.021 [max. 0.030]", "0.021 (<= 0.030)", "0.021 (≤0.030)"])(
  "the limit behind a value is no part of it: %s",
  (value) => {
    expect(sure("Heat | C % | Cr %", `H4471 | ${value} | 18.1`)).toEqual([`H4471 C ${value}`, "H4471 Cr 18.1"]);
  },
);

test.each(["0.021 (0.030)", "0.021 (check 0.030)"])("other figures behind a value may be: %s", (value) => {
  expect(sure("Heat | C % | Cr %", `H4471 | ${value} | 18.1`)).toEqual(["H4471 Cr 18.1"]);
});

test("rows under the heading Retest are of the retest", () => {
  const { heats } = read(
    "Heat | Zone | °C | KV 1 J | KV 2 J | KV 3 J",
    "H4471 | Weld | -196 | 25 | 91 | 95",
    "Retest",
    "H4471 | Weld | -196 | 88 | 92 | 96",
  );
  expect(heats[0]!.readings.map(({ printed, retest = false }) => `${printed} ${retest}`)).toEqual([
    "25 false",
    "91 false",
    "95 false",
    "88 true",
    "92 true",
    "96 true",
  ]);
});

describe("results of other metal", () => {
  const table = (heat: string) => ["Heat | C % | Cr %", `${heat} | 0.021 | 18.1`];

  test.each([
    "Results of earlier deliveries, for information only",
    "Ergebnisse früherer Lieferungen",
    "Résultats de livraisons antérieures, pour information",
    "Risultati di forniture precedenti",
    "Resultados de entregas anteriores, a título informativo",
  ])("are not relied on: %s", (heading) => {
    const lines = [...table("H4471"), "", heading, "", ...table("H1000")];
    expect(sure(...lines)).toEqual(["H4471 C 0.021", "H4471 Cr 18.1"]);
    expect(read(...lines).doubts.map(({ code }) => code)).toContain("results-of-other-metal");
  });

  test("end at the next heading of results", () => {
    const lines = ["For information only", "", ...table("H1000"), "", "Chemical analysis", "", ...table("H4471")];
    expect(sure(...table("H1001"), "", ...lines)).toEqual([
      "H1001 C 0.021",
      "H1001 Cr 18.1",
      "H4471 C 0.021",
      "H4471 Cr 18.1",
    ]);
  });

  test("but on top of the paper the words are said of all of it", () => {
    expect(sure("For information only", "", "Chemical analysis", "", ...table("H4471"))).toEqual([]);
  });
});

test.each(["PRELIMINARY - NOT FOR RELEASE", "VORLÄUFIG - NICHT FREIGEGEBEN", "Draft: not checked", "Non valido"])(
  "%s is a reservation",
  (line) => {
    expect(read(line, "", "Heat | C % | Cr %", "H4471 | 0.021 | 18.1").reservations).toHaveLength(1);
  },
);

describe("names of heats", () => {
  test("a lot's name where a heat should stand is the heat's", () => {
    expect(sure("Heat | C % | Cr %", "Lot 4471 | 0.021 | 18.1")).toEqual(["Lot 4471 C 0.021", "Lot 4471 Cr 18.1"]);
  });

  test("a line of words under the last heat names none", () => {
    const { heats } = read("Heat | C % | Cr %", "H4471 | 0.021 | 18.1", "continued 2/2");
    expect(heats.map(({ heat }) => heat.value)).toEqual(["H4471"]);
  });

  test("figures right behind a heat's name may belong to it", () => {
    expect(sure("Heat # 755 | 159", "C % | 0.021", "Cr % | 18.1")).toEqual([]);
  });

  test("two names in one cell are not taken for one", () => {
    expect(sure("Heat | C % | Cr %", "B78-119¶B70-821 | 0.021 | 18.1")).toEqual([]);
  });
});

test("numbered singles down a list are pieces, not strikers", () => {
  const { heats } = read(
    "Heat | H4471",
    "",
    "Property | Unit | Result",
    "KV 1, -196 °C | J | 88",
    "KV 2, -196 °C | J | 91",
    "KV 3, -196 °C | J | 95",
  );
  expect(heats[0]!.readings.map(({ striker }) => striker)).toEqual([undefined, undefined, undefined]);
});

test("the value of a form's line above a list names no heat", () => {
  const { heats } = read(
    "Certificate No. | 12 | Our sign | 4531182",
    "Heat | H4471 | Rm | 590 MPa",
    "A | 52 % | Rp0.2 | 300 MPa",
  );
  expect(heats.map(({ heat }) => heat.value)).toEqual(["H4471"]);
});

test("symbol and content in one cell are read in workbooks too", () => {
  expect(tell(read("Heat | H4471", "C 0.021 % | Cr 18.1 %", "Mn 1.20 % | Ni 8.1 %"))).toEqual([
    "H4471: C 0.021 %",
    "H4471: Mn 1.20 %",
    "H4471: Cr 18.1 %",
    "H4471: Ni 8.1 %",
  ]);
});

test("a heading that ran together with the rows before it leaves the rows after it in doubt", () => {
  const { heats } = read("Cast No. | Zone | KV J", "H4471¶Retest | Base | 104¶75", "H4471 | Base | 121");
  const retested = heats.flatMap(({ readings }) => readings).filter(({ printed }) => printed === "121");
  expect(retested).toHaveLength(1);
  expect(retested[0]!.confidence).toBeLessThan(CONFIDENCE_THRESHOLD);
});
