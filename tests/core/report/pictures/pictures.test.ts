import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { drawChemistryPosition } from "../../../../core/report/pictures/chemistry-position.js";
import { drawControlChart } from "../../../../core/report/pictures/control-chart.js";
import { drawImpactSingles } from "../../../../core/report/pictures/impact-singles.js";
import { drawPropertyAgainstTemperature } from "../../../../core/report/pictures/property-temperature.js";
import { drawStressStrain } from "../../../../core/report/pictures/stress-strain.js";
import { drawTransition } from "../../../../core/report/pictures/transition-curve.js";

const HOSTILE = `heat <script>alert("1")</script> & 'co' \u0007`;

const strain = Float64Array.from({ length: 5000 }, (_, i) => i * 1e-5);
const stressMPa = strain.map((value) => Math.min(200_000 * value, 300 + 2000 * value));

const PICTURES: Readonly<Record<string, (subject: string) => string>> = {
  "stress and strain": (subject) =>
    drawStressStrain({
      id: "a",
      subject,
      strain,
      stressMPa,
      elastic: { slopeMPa: 200_000, zeroStrain: 0, fromMPa: 40, toMPa: 120 },
      proofMPa: 307,
      strengthMPa: 399,
    }),
  "nothing reduced": (subject) => drawStressStrain({ id: "a", subject, strain, stressMPa }),
  impact: (subject) =>
    drawImpactSingles({
      id: "a",
      subject,
      zones: [
        { name: subject, singlesJ: [54.9, 58.3, 52.2], averageJ: 55.1, requiredAverageJ: 60, requiredSingleJ: 42 },
        { name: "base", singlesJ: [] },
      ],
    }),
  "impact without zones": (subject) => drawImpactSingles({ id: "a", subject, zones: [] }),
  transition: (subject) =>
    drawTransition({
      id: "a",
      subject,
      points: [
        { temperatureC: -80, value: 5 },
        { temperatureC: 20, value: 90 },
      ],
      curve: [-80, -30, 20].map((temperatureC) => ({ temperatureC, value: 50, plusMinus: 6 })),
      reached: [{ name: "T27J", temperatureC: -50, value: 27 }],
      serviceC: -40,
    }),
  "transition refused": (subject) =>
    drawTransition({
      id: "a",
      subject,
      points: [{ temperatureC: -196, value: 100 }],
      refusal: "No transition is seen.",
    }),
  chemistry: (subject) =>
    drawChemistryPosition({
      id: "a",
      subject,
      rows: [
        { element: "C", shown: "0.034", value: 0.034, max: 0.03, maxShown: "0.030" },
        { element: "Cr", shown: "18.1", value: 18.1, min: 17.5, max: 19.5 },
        { element: "Ni", shown: "8.1", value: 8.1, min: 8 },
        { element: "Mo", shown: "0.2", value: 0.2 },
      ],
    }),
  property: (subject) =>
    drawPropertyAgainstTemperature({
      id: "a",
      property: "KV",
      unit: "J",
      serviceC: -196,
      required: 60,
      series: [
        { name: subject, look: 0, points: [{ temperatureC: -196, value: 70 }] },
        { name: "none", look: 1, points: [] },
      ],
    }),
  "control chart": (subject) =>
    drawControlChart({
      id: "a",
      subject,
      unit: "C, %",
      heats: [
        { name: subject, value: 0.02, signal: true },
        { name: "H2", value: 0.021, signal: false },
      ],
      limits: { mean: 0.02, lower: 0.018, upper: 0.022, meanRange: 0.001, upperRange: 0.003 },
      max: 0.03,
    }),
  "control chart of too few heats": (subject) =>
    drawControlChart({ id: "a", subject, unit: "C, %", heats: [{ name: subject, value: 0.02, signal: false }] }),
};

/** Elements with their attributes, and texts; throws where the picture is no well-formed XML. */
function parse(svg: string) {
  const elements: { name: string; attributes: Record<string, string> }[] = [];
  const texts = new Map<string, string>();
  const open: string[] = [];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) => {
    open.push(name);
    elements.push({ name, attributes });
  });
  parser.on("closetag", () => open.pop());
  parser.on("text", (text) => {
    const name = open.at(-1);
    if (name) texts.set(name, `${texts.get(name) ?? ""}${text}`);
  });
  parser.write(svg).close();
  return { elements, texts };
}

for (const [name, draw] of Object.entries(PICTURES)) {
  describe(name, () => {
    test("is well-formed whatever the words are, and nothing of them becomes markup", () => {
      const { elements, texts } = parse(draw(HOSTILE));
      expect(elements.map((element) => element.name)).not.toContain("script");
      expect(texts.get("title")).toContain(name === "property" ? "KV" : "<script>");
    });

    test("has a role, a title and a description that its labels point to", () => {
      const { elements, texts } = parse(draw("heat H1"));
      const [svg] = elements;
      expect(svg!.attributes).toMatchObject({ role: "img", "aria-labelledby": "a-title a-description" });
      expect(elements.find((element) => element.name === "title")!.attributes.id).toBe("a-title");
      expect(elements.find((element) => element.name === "desc")!.attributes.id).toBe("a-description");
      expect(texts.get("desc")!.length).toBeGreaterThan(15);
    });

    test("draws only finite places, the same each time, and asks for nothing from outside", () => {
      const svg = draw("heat H1");
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
      expect(draw("heat H1")).toBe(svg);
      expect(svg.replace("http://www.w3.org/2000/svg", "")).not.toMatch(/https?:|url\((?!#)|<image|<use/);
    });
  });
}

test("a value outside its limits is told by its marker, not by colour alone", () => {
  const row = (value: number) =>
    drawChemistryPosition({ id: "a", subject: "x", rows: [{ element: "C", shown: String(value), value, max: 0.03 }] });
  expect(row(0.02)).toContain("<circle");
  expect(row(0.04)).not.toContain("<circle");
  expect(row(0.04)).toContain("outside");
});

test("a long curve is thinned and keeps its highest point", () => {
  const many = Float64Array.from({ length: 100_000 }, (_, i) => i * 1e-6);
  const spike = many.map((_, i) => (i === 54_321 ? 500 : 100));
  const svg = drawStressStrain({ id: "a", subject: "x", strain: many, stressMPa: spike });
  expect(svg.length).toBeLessThan(120_000);
  // 500 MPa is the only sample off the lower level: the curve must leave it once.
  const whole = /<polyline points="([^"]+)"/.exec(svg)![1]!;
  expect(new Set(whole.split(" ").map((point) => point.split(",")[1])).size).toBe(2);
});

test.each([
  ["above its line where nothing is near", 90, true],
  ["below its line where it would cover a point", 62, false],
  ["above its line where a point is just below", 58, true],
])("a required value is written %s", (_, value, isAbove) => {
  const svg = drawPropertyAgainstTemperature({
    id: "a",
    property: "KV",
    unit: "J",
    serviceC: -196,
    required: 60,
    series: [{ name: "x", look: 0, points: [-196, 20].map((temperatureC) => ({ temperatureC, value })) }],
  });
  const rule = Number(/y1="([\d.]+)"[^>]*stroke-dasharray="10 4"/.exec(svg)![1]);
  const written = Number(/<text[^>]* y="([\d.]+)"[^>]*>required 60 J/.exec(svg)![1]);
  expect(written < rule).toBe(isAbove);
});
