import { expect, it } from "vitest";
import type { Cell, ReadDocument } from "../../../core/recogniser/cells.js";
import { cutOverlong } from "../../../core/recogniser/cut-overlong.js";
import { readCertificate } from "../../../core/recogniser/read-certificate.js";

function tableOf(rows: readonly (readonly string[])[]): ReadDocument {
  const cells = rows.flatMap((texts, row) =>
    texts.map(
      (text, column): Cell => ({ row, column, text, confidence: 1, place: { line: row + 1, column: column + 1 } }),
    ),
  );
  return { reader: "csv", tables: [{ name: "a", cells }], doubts: [] };
}

const READ = [
  ["Heat No", "C %", "Si %"],
  ["H4471", "0.021", "0.40"],
];

it("leaves a document alone in which no text is longer than anything that is read", () => {
  const document = tableOf([...READ, ["x".repeat(500)]]);
  expect(cutOverlong(document)).toBe(document);
});

it("keeps the beginning of a longer text, trusts it in nothing, and says where it stood", () => {
  const { tables, doubts } = cutOverlong(tableOf([...READ, ["x".repeat(501)]]));
  expect(tables[0]!.cells.at(-1)).toMatchObject({ text: "x".repeat(500), confidence: 0 });
  expect(doubts).toEqual([
    { code: "text-too-long", message: expect.stringContaining("501 characters"), place: { line: 3, column: 1 } },
  ]);
});

it("cuts what hangs on a cell as well, and then does not trust the cell", () => {
  const document = tableOf([["0.021"]]);
  const [cell] = document.tables[0]!.cells;
  const commented = { ...document, tables: [{ name: "a", cells: [{ ...cell!, comment: "z".repeat(700) }] }] };
  const { tables, doubts } = cutOverlong(commented);
  expect(tables[0]!.cells).toEqual([{ ...cell, comment: "z".repeat(500), confidence: 0 }]);
  expect(doubts[0]!.message).toContain("700 characters");
});

it("lists so many and counts the others", () => {
  const { doubts } = cutOverlong(tableOf(Array.from({ length: 30 }, () => ["y".repeat(600)])));
  expect(doubts).toHaveLength(21);
  expect(doubts.at(-1)!.message).toBe("10 more texts were too long to be read.");
});

it("neither a value nor a heat's number is believed that goes on further than was read", () => {
  const value = readCertificate(tableOf([READ[0]!, ["H4471", `0.021${"0".repeat(600)}9`, "0.40"]]), 0);
  for (const { quantity, confidence } of value.heats[0]!.readings)
    if (quantity === "C") expect(confidence).toBeLessThan(0.5);
  const heat = readCertificate(tableOf([READ[0]!, [`H4471${" ".repeat(600)}H4472`, "0.021", "0.40"]]), 0);
  expect(heat.heats.map((record) => record.heat.confidence)).toEqual([0]);
});

it.each([" ", ".", ")", "\u00a0", "0", "a "])("a megabyte of %j in one cell is over at once", (pump) => {
  const long = `x${pump.repeat(1_000_000 / pump.length)}!`;
  const { doubts } = readCertificate(
    tableOf([["Heat No", "C %", long], ["H4471", "0.021", long], [`Grade: ${long}`]]),
    0,
  );
  expect(doubts.filter(({ code }) => code === "text-too-long")).toHaveLength(3);
});
