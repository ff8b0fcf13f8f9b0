import { expect, test } from "vitest";
import { parseNumberFormat } from "../../../../worker/readers/workbook/number-format.js";
import { type ShownNumber, showNumber } from "../../../../worker/readers/workbook/show-number.js";

// What a person sees, by the rules for format codes of ECMA-376 part 1, 18.8.31 (recalled, not looked up).
const numbers: readonly [stored: number, code: string, shown: ShownNumber][] = [
  [0.03, "General", { text: "0.03", number: "0.03" }],
  [0.03, "0.000", { text: "0.030", number: "0.03" }],
  [0.0304, "0.000", { text: "0.030", number: "0.0304" }],
  [0.0305, "0.000", { text: "0.031", number: "0.0305" }],
  [0.1 + 0.2, "General", { text: "0.3", number: "0.3" }],
  [27.4, "0.00\\ \\m\\m", { text: "27.40 mm", number: "27.4", formatUnit: "mm" }],
  [27.4, '0.0 "mm"', { text: "27.4 mm", number: "27.4", formatUnit: "mm" }],
  [485, '0" MPa"', { text: "485 MPa", number: "485", formatUnit: "MPa" }],
  [485, "0\\ \\M\\P\\a", { text: "485 MPa", number: "485", formatUnit: "MPa" }],
  [3, "0\\ \\s", { text: "3 s", number: "3", formatUnit: "s" }],
  [3, "0.0 m", { text: "3.0 m", number: "3", formatUnit: "m" }],
  [-196, '0 "°C"', { text: "-196 °C", number: "-196", formatUnit: "°C" }],
  [-196, "0;[Red]-0", { text: "-196", number: "-196" }],
  [-5.2, "#,##0.00_);(#,##0.00)", { text: "-5.20", number: "-5.2" }],
  [112, 'General "J"', { text: "112 J", number: "112", formatUnit: "J" }],
  [1234.5, "#,##0.00", { text: "1234.50", number: "1234.5" }],
  [0.5, "#.##", { text: ".5", number: "0.5" }],
  [0.02, "0.0%", { text: "2.0%", number: "2", formatUnit: "%" }],
  [0.00035, "0.00%", { text: "0.04%", number: "0.035", formatUnit: "%" }],
  [0.005, '"<"0.000', { text: "<0.005" }],
  [520, '"Rm "0', { text: "Rm 520" }],
  [1, '"n.a."', { text: "n.a." }],
  [38, '"KV2 "0', { text: "KV2 38" }],
  [47.5, '0.0" J/cm2"', { text: "47.5 J/cm2", number: "47.5", formatUnit: "J/cm2" }],
  [18.1, '0.0" %"', { text: "18.1 %", number: "18.1", formatUnit: "%" }],
  [0.021, "0.000\\ \\%", { text: "0.021 %", number: "0.021", formatUnit: "%" }],
  [290, '0" N/mm²"', { text: "290 N/mm²", number: "290", formatUnit: "N/mm²" }],
  [1.5, '0.0" kN / E+1"', { text: "1.5 kN / E+1", number: "1.5", formatUnit: "kN / E+1" }],
  [0.045, '"0.021"', { text: "0.021", hidden: true, instead: "0.045" }],
  [21, '"0.0"0', { text: "0.021", hidden: true, instead: "21" }],
  [0.02, '0.00"1"', { text: "0.021", hidden: true, instead: "0.02" }],
  [0.03, ";;;", { text: "0.03", number: "0.03", hidden: true }],
  [1500, '0.0,"k"', { text: "1500", number: "1500" }],
  [0.5, "# ?/?", { text: "0.5", number: "0.5" }],
  [5e-7, "General", { text: "0.0000005", number: "0.0000005" }],
  [5e-7, "0.00E+00", { text: "0.0000005", number: "0.0000005" }],
  [2e300, "General", { text: "2e+300" }],
];

test.each(numbers)("%d under %s", (stored, code, shown) => {
  expect(showNumber(stored, parseNumberFormat(code), false)).toEqual(shown);
});

const moments: readonly [stored: number, code: string, from1904: boolean, shown: ShownNumber][] = [
  [45356, "dd/mm/yyyy", false, { text: "2024-03-05", date: "2024-03-05" }],
  [45356, "[$-407]d\\. mmmm yyyy", false, { text: "2024-03-05", date: "2024-03-05" }],
  [45356.5, "m/d/yy h:mm", false, { text: "2024-03-05 12:00:00", date: "2024-03-05" }],
  [43894, "yyyy-mm-dd", true, { text: "2024-03-05", date: "2024-03-05" }],
  [59, "yyyy-mm-dd", false, { text: "1900-02-28", date: "1900-02-28" }],
  [61, "yyyy-mm-dd", false, { text: "1900-03-01", date: "1900-03-01" }],
  [0.5, "h:mm:ss", false, { text: "12:00:00" }],
  [1.5, "[h]:mm:ss", false, { text: "36:00:00" }],
  [12.5 / 86400, "mm:ss.0", false, { text: "00:00:12.5" }],
  [-1, "yyyy-mm-dd", false, { text: "-1", number: "-1" }],
];

test.each(moments)("%d under %s, from 1904: %s", (stored, code, from1904, shown) => {
  expect(showNumber(stored, parseNumberFormat(code), from1904)).toEqual(shown);
});
