import { readdirSync, readFileSync } from "node:fs";
import ts from "typescript";
import { describe, expect, it } from "vitest";

/**
 * Limits are compared as exact decimals (rule of judgement 1). Where binary numbers are made from decimals or text in the
 * folders that decide, it must be one of these places, for the reason given.
 */
const ALLOWED: Readonly<Record<string, string>> = {
  "core/quantity/decimal.ts Number": "toNumber itself, for plots and for formulas that end in a logarithm",
  "core/quantity/elongation-conversion.ts Math.sqrt": "gauge-length conversion is information, no outcome rests on it",
  "core/quantity/elongation-conversion.ts /": "the same",
  "core/quantity/elongation-conversion.ts **": "the same",
  "core/grades/edition.ts Number": "years of editions",
};

/** Whole-number functions that cannot make a fraction. */
const WHOLE = ["Math.max", "Math.min", "Math.abs"];

const FOLDERS = ["core/quantity", "core/grades", "core/requirement", "core/verdict"];

describe("no binary number decides", () => {
  const files = FOLDERS.flatMap(typescriptFiles);

  it("in the folders that decide, but for the places that are allowed", () => {
    const found = new Set(files.flatMap((file) => binaryNumbers(file, readFileSync(file, "utf8"))));
    expect([...found].filter((place) => !(place in ALLOWED))).toEqual([]);
    // An entry that is no longer needed would let the next one slip in.
    expect(Object.keys(ALLOWED).filter((place) => !found.has(place))).toEqual([]);
    expect(files.length).toBeGreaterThan(30);
  });

  it.each([
    ["Number(text) > 3", "Number"],
    ["Number.parseFloat(text)", "Number.parseFloat"],
    ["parseFloat(text)", "parseFloat"],
    ["toNumber(value) < 1", "toNumber"],
    ["values.map(toNumber)", "toNumber"],
    ["values.map(Number)", "Number"],
    ["+text >= limit", "unary +"],
    ["value.toFixed(2)", "toFixed"],
    ["Math.round(value)", "Math.round"],
    ["left / right", "/"],
    ["2 ** 0.5", "**"],
    ["BigInt(text) / 2n", ""],
    ["10n ** BigInt(places)", ""],
    ["Math.max(left.places, right.places)", ""],
    ["compare(left, right) < 0", ""],
  ])("sees %s", (source, expected) => {
    const seen = binaryNumbers("sample.ts", `export const result = ${source};`).map((place) =>
      place.split(" ").slice(1).join(" "),
    );
    expect(seen).toEqual(expected === "" ? [] : [expected]);
  });
});

function typescriptFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => `${folder}/${name}`);
}

/** "file what" for everything in a source that makes or divides binary numbers. */
function binaryNumbers(file: string, source: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const what = binaryNumber(node);
    if (what !== undefined) found.push(`${file} ${what}`);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, source, ts.ScriptTarget.ES2022, true));
  return found;
}

function binaryNumber(node: ts.Node): string | undefined {
  if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.PlusToken) return "unary +";
  if (ts.isBinaryExpression(node)) return operatorOnNumbers(node);
  if (ts.isPropertyAccessExpression(node)) {
    const name = node.getText();
    if (name.startsWith("Math.") && !WHOLE.includes(name)) return name;
    if (["Number.parseFloat", "Number.parseInt"].includes(name)) return name;
    return ["toFixed", "toPrecision"].includes(node.name.text) ? node.name.text : undefined;
  }
  const isUse = ts.isIdentifier(node) && (ts.isCallExpression(node.parent) || ts.isArrayLiteralExpression(node.parent));
  return isUse && ["Number", "parseFloat", "parseInt", "toNumber"].includes(node.text) ? node.text : undefined;
}

/** Division and powers are fine on big integers, which show by a literal or by BigInt nearby, and by names that we give them. */
function operatorOnNumbers(node: ts.BinaryExpression): string | undefined {
  const operator = node.operatorToken.getText();
  if (operator !== "/" && operator !== "**") return undefined;
  return /\d+n\b|BigInt|digits|numerator|denominator/.test(node.getText()) ? undefined : operator;
}
