import fc from "fast-check";
import { expect, it } from "vitest";
import { hashKeyText, isKeyText, keyBegins, newKeyText } from "../../../worker/store/key-text.js";

it("a new key is recognisable, fits its checksum, and is like no other", () => {
  const keys = Array.from({ length: 200 }, newKeyText);
  expect(new Set(keys).size).toBe(200);
  for (const key of keys) {
    expect(key).toMatch(/^hg_live_[0-9A-Za-z]{49}$/);
    expect(isKeyText(key)).toBe(true);
  }
});

it("one character mistyped is seen without asking anybody", () => {
  const key = newKeyText();
  fc.assert(
    fc.property(fc.integer({ min: 8, max: key.length - 1 }), fc.constantFrom(..."0aZ9k"), (place, character) => {
      fc.pre(key[place] !== character);
      expect(isKeyText(key.slice(0, place) + character + key.slice(place + 1))).toBe(false);
    }),
  );
});

it.each(["", "hg_live_", "hg_test_0", `hg_live_${"0".repeat(48)}`])("%j is no key", (text) => {
  expect(isKeyText(text)).toBe(false);
});

it("what is stored does not hold the key, and what is shown cannot be used", () => {
  const key = newKeyText();
  expect(hashKeyText(key)).toMatch(/^[0-9a-f]{64}$/);
  expect(key.startsWith(keyBegins(key))).toBe(true);
  expect(keyBegins(key)).toHaveLength(12);
});
