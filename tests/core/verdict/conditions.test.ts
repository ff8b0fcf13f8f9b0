import { describe, expect, it } from "vitest";
import { decimal } from "../../../core/quantity/decimal.js";
import { normaliseCondition, normaliseForm } from "../../../core/requirement/product-words.js";
import { isInRange, matchForm, matchProduct } from "../../../core/verdict/conditions.js";

describe("thickness ranges as tables say them: over 6 up to 50", () => {
  it.each([
    ["6", false],
    ["6.0", false],
    ["6.01", true],
    ["50", true],
    ["50.1", false],
  ])("%s mm: %s", (text, inside) => expect(isInRange(decimal(text), { over: "6", upTo: "50" })).toBe(inside));

  it.each([
    ["2.99", false],
    ["3", true],
    ["7.9", true],
    ["8", false],
  ])("from 3 under 8, %s mm: %s", (text, inside) => {
    expect(isInRange(decimal(text), { from: "3", under: "8" })).toBe(inside);
  });
});

describe("matchProduct", () => {
  const when = { form: ["plate"], thickness: { upTo: "75" }, condition: ["solution annealed"] };
  it.each([
    ["plate", "12", "annealed", "yes", []],
    ["plate", "75", "annealed", "yes", []],
    ["plate", "76", "annealed", "no", []],
    ["bar", undefined, undefined, "no", []],
    ["plate", undefined, undefined, "unknown", ["thickness", "condition"]],
    [undefined, undefined, undefined, "unknown", ["form", "thickness", "condition"]],
  ])("%s, %s mm, %s: %s", (form, thickness, condition, state, unknown) => {
    const facts = {
      ...(form !== undefined && { form }),
      ...(thickness !== undefined && { thicknessMm: decimal(thickness) }),
      ...(condition !== undefined && { condition }),
      disagreements: [],
    };
    expect(matchProduct(when, facts)).toEqual({ state, unknown });
  });
});

describe("matchForm", () => {
  it.each([
    [["plate"], "plate", "yes"],
    [["plate"], "hot-rolled plate", "yes"],
    [["hot-rolled plate"], "plate", "unknown"],
    [["seamless pipe", "welded pipe"], "pipe", "unknown"],
    [["seamless tube"], "seamless pipe", "yes"],
    [["forging"], "flange", "unknown"],
    [["wire", "rod"], "weld metal", "unknown"],
    [["seamless pipe"], "plate", "no"],
    [undefined, "plate", "yes"],
    [["plate"], undefined, "unknown"],
  ])("a limit for %j and a product %s: %s", (wanted, form, state) => {
    expect(matchForm(wanted, form === undefined ? undefined : normaliseForm(form))).toBe(state);
  });
});

describe("words of the trade", () => {
  it.each([
    ["Plates", "plate"],
    ["Seamless  Tubes", "seamless pipe"],
    ["cross", "cross"],
    ["Boxes", "box"],
  ])("form %s is %s", (text, form) => expect(normaliseForm(text)).toBe(form));

  it.each([
    ["Solution annealed and pickled", "solution annealed"],
    ["lösungsgeglüht", "solution annealed"],
    ["1.4307+AT", "solution annealed"],
    ["Annealed", "annealed"],
    ["¼ hard", "1/4 hard"],
    ["1/2H", "1/2 hard"],
    ["Full Hard", "full hard"],
    ["Q+T", "quenched and tempered"],
    ["as welded", "as welded"],
    ["brushed", undefined],
  ])("condition %s is %s", (text, condition) => expect(normaliseCondition(text)).toBe(condition));
});
