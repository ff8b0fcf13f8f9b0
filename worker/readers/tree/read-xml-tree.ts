import type { JsonTree } from "../../../core/recogniser/cells.js";
import type { Meter } from "../meter.js";
import type { PackedDocument } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { createXmlFeed } from "../xml.js";

/**
 * XML in the structure of the JSON certificate: an element or attribute is a key, repeated elements are an array, an element
 * with text alone is that text (numbers stay text). Text beside child elements stands under "#text".
 */
export function readXmlTree(bytes: Buffer, meter: Meter): PackedDocument {
  const { treeDepth, treeNodes } = meter.budgets;
  const document: Element = { entries: new Map(), text: "" };
  const open: Element[] = [document];
  let nodes = 0;
  const feed = createXmlFeed({
    open(name, attributes) {
      if (open.length > treeDepth) throw new ReadFailure("too-deep", `It is nested deeper than ${treeDepth} levels.`);
      nodes += 1 + Object.keys(attributes).length;
      if (nodes > treeNodes) throw new ReadFailure("too-many-cells", `It has more than ${treeNodes} values.`);
      const element: Element = { entries: new Map(), text: "" };
      for (const [key, text] of Object.entries(attributes)) {
        // Namespaces and schema locations say how to check the file, nothing of the metal.
        if (!/^(xmlns|xsi|xml)(:|$)/.test(key)) addEntry(element, key, { kind: "string", text });
      }
      addEntry(open.at(-1)!, name, element);
      open.push(element);
    },
    text(text) {
      open.at(-1)!.text += text;
    },
    close() {
      open.pop();
    },
  });
  feed.write(bytes);
  feed.end();
  const [root] = [...document.entries.values()].flat();
  return { reader: "xml", tables: [], tree: toTree(root!), doubts: [] };
}

interface Element {
  readonly entries: Map<string, (Element | JsonTree)[]>;
  text: string;
}

function addEntry(parent: Element, key: string, value: Element | JsonTree): void {
  const siblings = parent.entries.get(key);
  if (siblings) siblings.push(value);
  else parent.entries.set(key, [value]);
}

function toTree(node: Element | JsonTree): JsonTree {
  if ("kind" in node) return node;
  const text = node.text.trim();
  if (node.entries.size === 0) return { kind: "string", text };
  const entries = [...node.entries].map(([key, values]): [string, JsonTree] => {
    const items = values.map(toTree);
    return [key, items.length === 1 ? items[0]! : { kind: "array", items }];
  });
  return { kind: "object", entries: text === "" ? entries : [...entries, ["#text", { kind: "string", text }]] };
}
