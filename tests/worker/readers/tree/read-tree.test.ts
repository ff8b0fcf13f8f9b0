import fc from "fast-check";
import { expect, test } from "vitest";
import type { JsonTree } from "../../../../core/recogniser/cells.js";
import { readHere } from "../read-in-process.js";

test("numbers keep the text that stood in the file", async () => {
  const { reader, tree } = await readHere(
    '{"C": 0.030, "n": [1e-3, -0, 12345678901234567890.10], "t": "0,030", "x": null, "y": true}',
  );
  expect(reader).toBe("json");
  expect(tree).toEqual({
    kind: "object",
    entries: [
      ["C", { kind: "number", text: "0.030" }],
      [
        "n",
        { kind: "array", items: ["1e-3", "-0", "12345678901234567890.10"].map((text) => ({ kind: "number", text })) },
      ],
      ["t", { kind: "string", text: "0,030" }],
      ["x", { kind: "null" }],
      ["y", { kind: "boolean", value: true }],
    ],
  });
});

test("reads what JSON.parse reads, to the same values", async () => {
  await fc.assert(
    fc.asyncProperty(fc.oneof(fc.dictionary(fc.string(), fc.jsonValue()), fc.array(fc.jsonValue())), async (value) => {
      const text = JSON.stringify(value, null, 1);
      const { tree } = await readHere(text);
      if (tree) expect(JSON.stringify(toValue(tree))).toBe(JSON.stringify(JSON.parse(text)));
    }),
  );
});

const malformed: readonly [text: string, code: string][] = [
  ['{"a": 01}', "damaged"],
  ['{"a": .5}', "damaged"],
  ['{"a": 0,5}', "damaged"],
  ['{"a": NaN}', "damaged"],
  ['{"a": "\t"}', "damaged"],
  ['{"a": 1,}', "damaged"],
  ['{"a": 1} x', "damaged"],
  ['{"a": "x', "truncated"],
  ['{"a": [1, 2', "truncated"],
];

test.each(malformed)("%s is refused as %s", async (text, code) => {
  await expect(readHere(text)).rejects.toMatchObject({ code });
});

test("a fault in JSON is told with its line and column", async () => {
  await expect(readHere('{\n  "a": x\n}')).rejects.toThrow("line 2, column 8");
});

test("XML comes in the same structure: attributes and elements as keys, repeated ones as lists, numbers as text", async () => {
  const { reader, tree } = await readHere(
    '<?xml version="1.0"?><c:certificate xmlns:c="urn:x" number="7"><heat>H1</heat><heat id="2">H2</heat><C>0.030</C></c:certificate>',
  );
  expect(reader).toBe("xml");
  expect(toValue(tree!)).toEqual({ number: "7", heat: ["H1", { id: "2", "#text": "H2" }], C: "0.030" });
});

test("XML in Windows-1252 by its bytes and entities of XML itself", async () => {
  const { tree } = await readHere(Buffer.from("<a><b>20 °C</b><c>&lt;5</c></a>", "latin1"));
  expect(toValue(tree!)).toEqual({ b: "20 °C", c: "<5" });
});

test("XML that ends early is cut off, not wrong", async () => {
  await expect(readHere("<a><b>1</b>")).rejects.toMatchObject({ code: "truncated" });
  await expect(readHere("<a><b>1</c></a>")).rejects.toMatchObject({ code: "damaged" });
});

function toValue(tree: JsonTree): unknown {
  switch (tree.kind) {
    case "object":
      return Object.fromEntries(tree.entries.map(([key, value]) => [key, toValue(value)]));
    case "array":
      return tree.items.map(toValue);
    case "string":
      return tree.text;
    case "number":
      return Number(tree.text);
    case "boolean":
      return tree.value;
    case "null":
      return null;
  }
}
