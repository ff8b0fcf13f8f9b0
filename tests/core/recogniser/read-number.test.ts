import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatDecimal } from "../../../core/quantity/decimal.js";
import { type DecimalSign, findDecimalSign } from "../../../core/recogniser/decimal-sign.js";
import { readNumber } from "../../../core/recogniser/read-number.js";

function tell(text: string, sign: DecimalSign = "unknown"): string {
  const read = readNumber(text, sign);
  if (read.kind === "number")
    return `${read.bound ?? ""}${formatDecimal(read.value)}${read.trailer && ` ${read.trailer}`}`;
  return read.kind === "several" ? read.values.map(formatDecimal).join(" ") : read.kind;
}

describe("readNumber", () => {
  it.each([
    ["0.021", "0.021"],
    ["0,0213", "0.0213"],
    [".0213", "0.0213"],
    [",021", "0.021"],
    ["18,12", "18.12"],
    ["<0.005", "<0.005"],
    ["< 0,005", "<0.005"],
    ["≤0.030", "<=0.030"],
    ["−196", "-196"],
    ["1 234,5", "1234.5"],
    ["1.234,5", "1234.5"],
    ["1,234.5", "1234.5"],
    ["1,234,567", "1234567"],
    ["485 MPa", "485 MPa"],
    ["187 HB", "187 HB"],
    ["98/102/95", "98 102 95"],
    ["98 / 102 / 95", "98 102 95"],
    ["1,234", "ambiguous"],
    ["12.345", "ambiguous"],
    ["-", "blank"],
    ["n.a.", "blank"],
    ["not tested", "blank"],
    ["max 0.030", "limit"],
    ["18.0 - 20.0", "limit"],
    ["18.0–20.0", "limit"],
    ["l.45", "unreadable"],
    ["0.O21", "unreadable"],
    ["0.02l", "unreadable"],
    ["1O5", "unreadable"],
    ["1.2.3", "unreadable"],
    ["abc", "unreadable"],
  ])("%s is %s", (text, told) => expect(tell(text)).toBe(told));

  it.each<[string, DecimalSign, string]>([
    ["1,234", "comma", "1.234"],
    ["1,234", "point", "1234"],
    ["1.234", "point", "1.234"],
    ["1.234", "comma", "1234"],
    ["1,234", "mixed", "ambiguous"],
  ])("%s on a paper with decimal %s is %s", (text, sign, told) => expect(tell(text, sign)).toBe(told));

  const printed = fc
    .tuple(fc.nat({ max: 99 }), fc.integer({ min: 1, max: 4 }), fc.nat({ max: 9999 }))
    .map(([whole, places, fraction]) => `${whole}.${String(fraction).padStart(4, "0").slice(0, places)}`);

  it("reads back what is printed, with either sign and all places", () => {
    fc.assert(
      fc.property(printed, (text) => {
        expect(tell(text, "point")).toBe(text);
        expect(tell(text.replace(".", ","), "comma")).toBe(text);
      }),
    );
  });
});

describe("findDecimalSign", () => {
  it.each<[readonly string[], DecimalSign]>([
    [["0,021", "1,234"], "comma"],
    [["0.021", "1.234"], "point"],
    [["1,234", "2,345"], "unknown"],
    [["485", "612"], "unknown"],
    [["0,021", "18.12"], "mixed"],
    [["1.234,5"], "comma"],
    // Dates and standards are no decimals.
    [["12.03.2026", "EN 10028-7"], "unknown"],
  ])("%j proves %s", (texts, sign) => expect(findDecimalSign(texts)).toBe(sign));
});
