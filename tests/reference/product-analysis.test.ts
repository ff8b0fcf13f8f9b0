import { describe, it } from "vitest";
import { loadCases } from "./reference-cases.js";

// ASTM A751 example: 18.00 to 20.00 % chromium, 0.20 % tolerance on product analysis, none on heat analysis.
describe("product analysis", () => {
  for (const { id, rule } of loadCases("product-analysis")) it.todo(`${id}: ${rule}`);
});
