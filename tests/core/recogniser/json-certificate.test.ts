import { describe, expect, it } from "vitest";
import { z } from "zod";
import type { JsonTree } from "../../../core/recogniser/cells.js";
import { jsonCertificateSchema } from "../../../core/recogniser/json-certificate.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { tell } from "./tell.js";

/** As a reader makes it: numbers keep their source text, here by writing them as text in backticks. */
function tree(value: unknown): JsonTree {
  if (value === null) return { kind: "null" };
  if (Array.isArray(value)) return { kind: "array", items: value.map(tree) };
  if (typeof value === "object")
    return { kind: "object", entries: Object.entries(value).map(([key, child]) => [key, tree(child)]) };
  if (typeof value === "boolean") return { kind: "boolean", value };
  return typeof value === "number" ? { kind: "number", text: String(value) } : { kind: "string", text: String(value) };
}

const read = (value: unknown, reader: "json" | "xml" = "json") =>
  recognise({ reader, tables: [], tree: tree(value), doubts: [] }, 0);

const whole = {
  certificate: 1,
  type: "EN 10204 3.1",
  number: "TS-2041",
  date: "2026-03-12",
  heats: [
    {
      heat: "H4471",
      grades: [{ standard: "ASTM A240/A240M", grade: "304L" }],
      product: { form: "Plate", thickness: "12 mm", condition: "Solution annealed" },
      chemistry: [{ analysis: "heat", unit: "%", values: { C: "0.021", S: "<0.005", Mn: 1.52 } }],
      tensile: [{ test: "T1", unit: "N/mm²", orientation: "transverse", values: { Rm: "612", A50: "55" } }],
      impact: [
        {
          zone: "haz",
          temperature: "-196 °C",
          width: "10 mm",
          striker: 2,
          KV: { unit: "J", singles: ["80", "82", "91"], average: "84" },
          lateralExpansion: { unit: "mils", singles: ["35"] },
        },
      ],
      hardness: [{ scale: "HBW", singles: ["170"] }],
    },
  ],
};

const WHOLE = [
  "H4471: C 0.021 % heat",
  "H4471: S <0.005 % heat",
  "H4471: Mn 1.52 % heat",
  "H4471: Rm 612 N/mm2 transverse",
  "H4471: A50 55 % transverse",
  "H4471: KV 80 J haz -196 °C w10 mm r2",
  "H4471: KV 82 J haz -196 °C w10 mm r2",
  "H4471: KV 91 J haz -196 °C w10 mm r2",
  "H4471: KV 84 J haz -196 °C w10 mm r2 average",
  "H4471: LE 35 mil haz -196 °C w10 mm r2",
  "H4471: HBW 170 HBW",
];

describe("the JSON certificate", () => {
  it("is read whole", () => {
    const certificate = read(whole);
    expect(certificate.doubts).toEqual([]);
    expect(tell(certificate)).toEqual(WHOLE);
    expect(certificate.type?.value).toBe("3.1");
    expect(certificate.heats[0]!.product.thickness?.value).toEqual({ value: { digits: 12n, places: 0 }, unit: "mm" });
    expect(certificate.heats[0]!.readings[1]!.evidence).toEqual({
      document: 0,
      pointer: "/heats/0/chemistry/0/values/S",
    });
  });

  it("is read from XML, where lists of one look like things and all is text", () => {
    const [heat] = whole.heats;
    const xml = {
      ...whole,
      certificate: "1",
      heats: { ...heat, chemistry: heat!.chemistry[0], impact: { ...heat!.impact[0], striker: "2" } },
    };
    expect(tell(read(xml, "xml"))).toEqual(WHOLE);
  });

  it.each([
    ["a value of the wrong type", { C: true, Mn: "1.5" }, "/heats/0/chemistry/0/values/C", "C"],
    ["a decimal comma", { C: "0,021", Mn: "1.5" }, "/heats/0/chemistry/0/values/C", "C"],
    ["a letter in a number", { C: "l.45", Mn: "1.5" }, "/heats/0/chemistry/0/values/C", "C"],
    ["an unknown element", { Xx: "1", Mn: "1.5" }, "/heats/0/chemistry/0/values/Xx", "Xx"],
  ])("loses only %s, and says where", (_, values, pointer, quantity) => {
    const certificate = read({ certificate: 1, heats: [{ heat: "H1", chemistry: [{ unit: "%", values }] }] });
    expect(tell(certificate)).toEqual(["H1: Mn 1.5 %"]);
    expect(certificate.doubts).toMatchObject([
      { code: "json-fault", heat: "H1", quantity, evidence: { document: 0, pointer } },
    ]);
  });

  it("keeps pointers true after an item before was taken away", () => {
    const certificate = read({
      certificate: 1,
      heats: [{ heat: "H1", hardness: [{ scale: "?" }, { scale: "HBW", singles: ["x", "170"] }] }],
    });
    expect(certificate.heats[0]!.readings[0]!.evidence).toEqual({
      document: 0,
      pointer: "/heats/0/hardness/1/singles/1",
    });
  });

  it.each([[[]], [{}], ["text"], [null], [{ certificate: 2, heats: [] }], [{ certificate: 1, heats: {} }]])(
    "says that %j is no certificate",
    (value) => {
      const certificate = read(value);
      expect(certificate.heats).toEqual([]);
      expect(certificate.doubts.at(-1)!.code).toBe("json-unknown");
    },
  );

  it("has a JSON Schema to publish", () => {
    const schema = z.toJSONSchema(jsonCertificateSchema, { io: "input" });
    expect(schema).toMatchObject({ type: "object", required: ["certificate", "heats"] });
  });
});
