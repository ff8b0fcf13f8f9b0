import type { Entry } from "./entry.js";

/**
 * EN 10168 field codes. Only hints: the printed title decides, since C71 to C92 have no fixed element and mills differ.
 * Codes other than A01, B01, B07, C11 and C71-C92 are from memory.
 */
export const CODES: readonly Entry[] = [
  { means: { code: "issuer" }, phrases: ["a01", "a04"] },
  { means: { code: "certificate-type" }, phrases: ["a02"] },
  { means: { code: "certificate-number" }, phrases: ["a03"] },
  { means: { code: "order" }, phrases: ["a07"] },
  { means: { code: "other" }, phrases: ["a05", "a06", "a08", "a09", "b06", "b08", "b09", "b10", "b11", "b12", "b13"] },
  { means: { code: "form" }, phrases: ["b01"] },
  { means: { code: "grade" }, phrases: ["b02", "b03"] },
  { means: { code: "condition" }, phrases: ["b04", "b05"] },
  { means: { code: "heat" }, phrases: ["b07"] },
  { means: { code: "test" }, phrases: ["c00"] },
  { means: { code: "other" }, phrases: ["c01", "c10", "c30", "c40", "c50", "c70", "d01", "z01", "z03", "z04"] },
  { means: { code: "orientation" }, phrases: ["c02"] },
  { means: { code: "temperature" }, phrases: ["c03"] },
  { means: { code: "Yield" }, phrases: ["c11"] },
  { means: { code: "Rm" }, phrases: ["c12"] },
  { means: { code: "Elongation" }, phrases: ["c13"] },
  { means: { code: "Hardness" }, phrases: ["c31", "c32"] },
  { means: { code: "width" }, phrases: ["c41"] },
  { means: { code: "KV" }, phrases: ["c42", "c43"] },
  { means: { code: "date" }, phrases: ["z02"] },
  {
    means: { code: "other" },
    phrases: [
      ...codes("a", 10, 99),
      ...codes("b", 14, 99),
      ...codes("c", 4, 9),
      ...codes("c", 14, 29),
      ...codes("c", 33, 39),
      ...codes("c", 44, 69),
    ],
  },
  {
    means: { code: "chemistry" },
    phrases: codes("c", 71, 99),
  },
];

function codes(letter: string, first: number, last: number): string[] {
  return Array.from({ length: last - first + 1 }, (_, index) => `${letter}${String(first + index).padStart(2, "0")}`);
}
