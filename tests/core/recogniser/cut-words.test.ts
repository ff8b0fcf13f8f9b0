import { describe, expect, test } from "vitest";
import { readTitle } from "../../../core/recogniser/read-title.js";

describe("words cut short with a dot", () => {
  test.each([
    ["Zugfest. [MPa]", "Rm"],
    ["Dehngr. Rp 0,2", "Rp0.2"],
    ["Snerv. Rp1,0", "Rp1.0"],
    ["Rés. traction", "Rm"],
    ["Resist. tracción", "Rm"],
    ["Límite elást. 0,2 %", "Rp0.2"],
    ["Allung. A50", "A50"],
    ["Limite Rp0,2", "Rp0.2"],
  ])("%s is %s", (text, quantity) => {
    expect(readTitle(text)).toMatchObject({ quantity, rest: "" });
    expect(readTitle(text)).not.toHaveProperty("role");
  });

  test.each(["Rés. [MPa]", "Car. %", "Zu. [MPa]"])("%s may mean several things, or too much was cut", (text) => {
    expect(readTitle(text).rest).not.toBe("");
  });

  test("without the dot a piece of a word is none", () => {
    expect(readTitle("Zugfest [MPa]").rest).not.toBe("");
  });
});

describe("the sign for number is no nitrogen", () => {
  test.each([
    ["N.º probeta", "test"],
    ["Colada N.º", "heat"],
    ["N. saggio", "test"],
    ["N° ordine", "order"],
  ])("%s is a %s", (text, field) => {
    const title = readTitle(text);
    expect(title).toMatchObject({ field, rest: "" });
    expect(title).not.toHaveProperty("quantity");
  });

  test("an element beside the name of a thing makes no title", () => {
    expect(readTitle("Test C").rest).not.toBe("");
  });
});
