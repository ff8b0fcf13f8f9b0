import { expect, test } from "vitest";
import { looksLikeHeat } from "../../../core/certificate/heat-number.js";

test.each([
  ["H4471", true],
  ["4471", true],
  ["N-41 827", true],
  ["55123.1", true],
  ["A12.5", true],
  ["0.021", false],
  [".021", false],
  ["18,12", false],
  ["Norrvik", false],
  ["Steel of heat 4471, as agreed", false],
])("%s can name a heat: %s", (text, can) => {
  expect(looksLikeHeat(text)).toBe(can);
});
