import type { JsonTree } from "../../../core/recogniser/cells.js";
import type { Meter } from "../meter.js";
import type { PackedDocument } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { decodeText } from "../text/decode-text.js";

/**
 * RFC 8259, read by hand for one reason: `JSON.parse` turns 0.030 into 0.03, and the zeros count. A key that occurs twice in
 * one object is refused, since parsers differ in which of the two they believe.
 */
export function readJson(bytes: Buffer, meter: Meter): PackedDocument {
  const { text } = decodeText(bytes);
  return { reader: "json", tables: [], tree: parseJson(text, meter), doubts: [] };
}

export function parseJson(text: string, meter: Meter): JsonTree {
  let at = 0;
  let nodes = 0;
  skipSpace();
  const tree = readValue(0);
  skipSpace();
  if (at < text.length) throw unexpected();
  return tree;

  function readValue(depth: number): JsonTree {
    const { treeDepth, treeNodes } = meter.budgets;
    if (depth > treeDepth) throw new ReadFailure("too-deep", `It is nested deeper than ${treeDepth} levels.`);
    if (++nodes > treeNodes) throw new ReadFailure("too-many-cells", `It has more than ${treeNodes} values.`);
    switch (text[at]) {
      case "{":
        return readObject(depth);
      case "[":
        return readArray(depth);
      case '"':
        return { kind: "string", text: readString() };
      case "t":
        return readWord("true", { kind: "boolean", value: true });
      case "f":
        return readWord("false", { kind: "boolean", value: false });
      case "n":
        return readWord("null", { kind: "null" });
      default:
        return readNumber();
    }
  }

  function readObject(depth: number): JsonTree {
    const entries: [string, JsonTree][] = [];
    const keys = new Set<string>();
    readList("}", () => {
      if (text[at] !== '"') throw unexpected();
      const start = at;
      const key = readString();
      if (keys.has(key))
        throw new ReadFailure("damaged", `The key "${key.slice(0, 60)}" occurs twice, ${where(start)}.`);
      keys.add(key);
      skipSpace();
      expect(":");
      skipSpace();
      entries.push([key, readValue(depth + 1)]);
    });
    return { kind: "object", entries };
  }

  function readArray(depth: number): JsonTree {
    const items: JsonTree[] = [];
    readList("]", () => {
      items.push(readValue(depth + 1));
    });
    return { kind: "array", items };
  }

  function readList(end: string, readItem: () => void): void {
    at++;
    skipSpace();
    if (text[at] === end) {
      at++;
      return;
    }
    for (;;) {
      readItem();
      skipSpace();
      if (text[at] === end) break;
      expect(",");
      skipSpace();
    }
    at++;
  }

  function readString(): string {
    const start = at;
    do {
      at = text.indexOf('"', at + 1);
      if (at < 0) {
        at = text.length;
        throw unexpected();
      }
    } while (isEscaped(at));
    at++;
    try {
      return JSON.parse(text.slice(start, at)) as string;
    } catch {
      throw new ReadFailure("damaged", `The JSON is not well formed: a text that cannot be read ${where(start)}.`);
    }
  }

  function isEscaped(position: number): boolean {
    let backslashes = 0;
    while (text[position - 1 - backslashes] === "\\") backslashes++;
    return backslashes % 2 === 1;
  }

  function readNumber(): JsonTree {
    return { kind: "number", text: take(/-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y) };
  }

  function readWord(word: string, value: JsonTree): JsonTree {
    if (!text.startsWith(word, at)) throw unexpected();
    at += word.length;
    return value;
  }

  function take(pattern: RegExp): string {
    pattern.lastIndex = at;
    const match = pattern.exec(text);
    if (!match || match[0] === "") throw unexpected();
    at += match[0].length;
    return match[0];
  }

  function expect(character: string): void {
    if (text[at] !== character) throw unexpected();
    at++;
  }

  function skipSpace(): void {
    while (at < text.length && " \t\r\n\ufeff".includes(text[at]!)) at++;
  }

  function unexpected(): ReadFailure {
    if (at >= text.length) return new ReadFailure("truncated", "The JSON ends before it is complete.");
    return new ReadFailure("damaged", `The JSON is not well formed: unexpected "${text[at]}" ${where(at)}.`);
  }

  function where(position: number): string {
    const before = text.slice(0, position);
    const line = before.split("\n").length;
    return `in line ${line}, column ${position - before.lastIndexOf("\n")}`;
  }
}
