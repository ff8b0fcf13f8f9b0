import { describe, expect, test } from "vitest";
import type { Certificate, Reading } from "../../../core/certificate/certificate.js";
import { CONFIDENCE_THRESHOLD } from "../../../core/certificate/certificate.js";
import { formatDecimal, toNumber } from "../../../core/quantity/decimal.js";
import { formatMeasure } from "../../../core/quantity/measure.js";
import { reduceRecords } from "../../../core/reduction/reduce-records.js";
import { tableOf } from "../../reference/table-of.js";

// K = M (cos β - cos α) with M = 20.4 kg · 9.80665 m/s² · 0.75 m = 150.04 N·m: 139.36 J for 150° and 86.4°, computed apart.
const ENERGY_J = 139.36;

const FACTS = {
  "Heat No.": "H1",
  Standard: "ISO 148-1",
  "Specified temperature": "-196 °C",
  "Striker radius": "2 mm",
  "Specimen size": "10 x 10 x 55 mm",
  "Pendulum mass": "20.4 kg",
  "Pendulum length": "0.75 m",
  "Release angle": "150 °",
  "Nominal energy": "280 J",
};

type Facts = Partial<Record<string, string>>;

function reduce(facts: Facts, ...rows: readonly string[]): Certificate {
  const lines = Object.entries({ ...FACTS, ...facts }).flatMap(([name, value]) => (value ? [`${name};${value}`] : []));
  const document = { reader: "csv", tables: [tableOf([...lines, "", ...rows].join("\n"), ";")], doubts: [] } as const;
  return reduceRecords(document, 0)!;
}

const COLUMNS = "Specimen;Zone;Temp °C;Rise angle °";
const PIECE = "B1;Base;-196;86.4";

function readings({ heats }: Certificate, quantity: string): Reading[] {
  return heats.flatMap((heat) => heat.readings.filter((reading) => reading.quantity === quantity));
}

function codes({ doubts }: Certificate): string[] {
  return doubts.map(({ code }) => code);
}

function decides({ confidence }: Reading): boolean {
  return confidence >= CONFIDENCE_THRESHOLD;
}

describe("the pendulum in other units gives the same energy", () => {
  const cases: readonly (readonly [what: string, facts: Facts])[] = [
    ["kg, m, °", {}],
    ["mass in lb", { "Pendulum mass": "44.9743 lb" }],
    ["length in inches", { "Pendulum length": "29.5276 in." }],
    ["length in mm", { "Pendulum length": "750 mm" }],
    ["moment", { "Pendulum mass": "", "Pendulum length": "", Moment: "150.0417 N·m" }],
    ["capacity in ft·lbf", { "Nominal energy": "206.5 ft-lbf" }],
    ["release angle in rad", { "Release angle": "2.617994 rad" }],
  ];
  test.each(cases)("%s", (_, facts) => {
    const certificate = reduce(facts, COLUMNS, PIECE);
    const [energy] = readings(certificate, "KV");
    expect(Math.abs(toNumber(energy!.value) - ENERGY_J)).toBeLessThan(0.02);
    expect(decides(energy!)).toBe(true);
    expect(codes(certificate)).toEqual([]);
  });
});

describe("a pendulum that cannot be as it is described: no energy of it decides", () => {
  const cases: readonly (readonly [what: string, facts: Facts, code: string])[] = [
    ["pounds written as kg", { "Pendulum mass": "44.97 kg" }, "pendulum-contradicts"],
    ["mm written as m", { "Pendulum length": "750 m" }, "pendulum-improbable"],
    ["radians without a unit", { "Release angle": "2.618" }, "pendulum-improbable"],
    ["another capacity", { "Nominal energy": "300 J" }, "pendulum-contradicts"],
    [
      "free swings interchanged",
      {
        "Free swing β1, with pointer": "149.5 °",
        "Free swing β2, without pointer": "149.3 °",
        "β3, ten half swings": "147.8 °",
      },
      "pendulum-losses",
    ],
  ];
  test.each(cases)("%s", (_, facts, code) => {
    const certificate = reduce(facts, COLUMNS, PIECE);
    expect(codes(certificate)).toContain(code);
    expect(readings(certificate, "KV").filter(decides)).toEqual([]);
  });

  test("a mass or length that is not stated: no energy, and it is said", () => {
    const certificate = reduce({ "Pendulum mass": "" }, COLUMNS, PIECE);
    expect(readings(certificate, "KV")).toEqual([]);
    expect(codes(certificate)).toEqual(["pendulum-not-described"]);
  });

  test("a rise angle in radians without a unit all but stops the pendulum", () => {
    const certificate = reduce({}, "Specimen;Zone;Temp °C;Rise angle", "B1;Base;-196;1.508");
    expect(readings(certificate, "KV").filter(decides)).toEqual([]);
  });
});

test("release height piece by piece; heights without a unit are not used, and said", () => {
  const facts = { "Pendulum mass": "22 kg", "Pendulum length": "", "Release angle": "", "Nominal energy": "" };
  const [energy] = readings(
    reduce(facts, "Specimen;Temp °C;Release height m;Rise height m", "B1;-196;0.75;0.28"),
    "KV",
  );
  expect(formatDecimal(energy!.value)).toMatch(/^101\.4/); // 22 · 9.80665 · 0.47
  expect(codes(reduce(facts, "Specimen;Temp °C;Release height;Rise height", "B1;-196;0.75;0.28"))).toContain(
    "column-unit",
  );
});

test.each([
  ["-320 °F", "Temp °F", "-320", "-320 °F"],
  ["77 K", "Temp K", "77", "77 K"],
])("a bath in %s", (specified, heading, printed, expected) => {
  const certificate = reduce(
    { "Specified temperature": specified },
    `Specimen;Zone;${heading};Rise angle °`,
    `B1;Base;${printed};86.4`,
  );
  expect(readings(certificate, "KV").map(({ temperature }) => formatMeasure(temperature!))).toEqual([expected]);
  expect(codes(certificate)).toEqual([]);
});

test("a temperature column without a unit is not used, and said", () => {
  const certificate = reduce({}, "Specimen;Zone;Temp;Rise angle °", "B1;Base;-196;86.4");
  expect(codes(certificate)).toContain("column-unit");
});

test("a piece that took too long was warmer than its bath: nothing measured on it decides", () => {
  const columns = `${COLUMNS};Transfer time s;A1 mm;A2 mm;A3 mm;A4 mm`;
  const certificate = reduce({}, columns, `${PIECE};6.2;0.7;0.6;0.8;0.5`, `${PIECE};4.9;0.7;0.6;0.8;0.5`);
  expect(readings(certificate, "KV").map(decides)).toEqual([false, true]);
  expect(readings(certificate, "LE").map(decides)).toEqual([false, true]);
});

describe("lateral expansion and cleavage patch", () => {
  const halves = (...values: readonly string[]) =>
    reduce(
      {},
      `${COLUMNS};${["A1", "A2", "A3", "A4"].map((name) => `${name}${UNIT}`).join(";")};LE mm`,
      ...values.map((value) => `${PIECE};${value}`),
    );
  const UNIT = " mm";

  test("evidence is the cell of each value, and its notes name them all", () => {
    const certificate = reduce(
      {},
      `${COLUMNS};A1 mm;A2 mm;A3 mm;A4 mm;Cleavage width mm;Cleavage depth mm`,
      `${PIECE};0.7;0.6;0.8;0.5;5;4`,
    );
    const of = (quantity: string) => readings(certificate, quantity)[0]!;
    expect(of("KV").evidence).toMatchObject({ line: 12, column: 4 });
    expect(of("LE").evidence).toMatchObject({ line: 12, column: 5 });
    expect(of("LE").notes).toContain("read at columns 5, 6, 7, 8");
    expect(of("SFA").evidence).toMatchObject({ line: 12, column: 9 });
    expect(of("SFA").notes).toContain("read at columns 9, 10");
  });

  test("stated beside the halves: where the two differ it decides nothing", () => {
    const certificate = halves("0.7;0.6;0.8;0.5;1.50", "0.7;0.6;0.8;0.5;1.20");
    expect(readings(certificate, "LE").map(decides)).toEqual([true, false]);
    expect(certificate.doubts).toMatchObject([{ code: "stated-result-differs", evidence: { line: 13, column: 5 } }]);
  });

  test("one of the four readings missing: said, not made up", () => {
    const certificate = halves("0.7;;0.8;0.5;");
    expect(readings(certificate, "LE")).toEqual([]);
    expect(codes(certificate)).toEqual(["readings-incomplete"]);
  });

  test.each([
    ["inches", "0.0276;0.0236;0.0315;0.0197"],
    ["mils", "27.6;23.6;31.5;19.7"],
  ])("%s without a unit do not pass for millimetres", (_, values) => {
    const certificate = reduce({}, `${COLUMNS};A1;A2;A3;A4`, `${PIECE};${values}`);
    expect(readings(certificate, "LE").filter(decides)).toEqual([]);
    expect(codes(certificate)).toEqual(["expansion-improbable"]);
  });

  test.each([
    ["inches", "in", "0.0276;0.0236;0.0315;0.0197"],
    ["mils", "mil", "27.6;23.6;31.5;19.7"],
  ])("%s with their unit", (_, unit, values) => {
    const columns = ["A1", "A2", "A3", "A4"].map((name) => `${name} ${unit}`).join(";");
    const certificate = reduce({}, `${COLUMNS};${columns}`, `${PIECE};${values}`);
    expect(readings(certificate, "LE").map(({ printed }) => printed)).toEqual(["1.50"]);
  });

  test("a patch wider than the piece is none, even of a small area", () => {
    const certificate = reduce({}, `${COLUMNS};Cleavage width mm;Cleavage depth mm`, `${PIECE};12;5`);
    expect(readings(certificate, "SFA")).toEqual([]);
    expect(codes(certificate)).toEqual(["patch-impossible"]);
  });
});

describe.each([
  [
    "French",
    [
      "Coulée;H1",
      "Température d'essai;-196 °C",
      "Masse du pendule;20,4 kg",
      "Longueur du pendule;0,75 m",
      "Angle de chute;150 °",
    ],
    "Éprouvette;Position de l'entaille;Température °C;Angle de remontée °",
    "Soudure",
  ],
  [
    "Italian",
    [
      "Colata;H1",
      "Temperatura di prova;-196 °C",
      "Massa del pendolo;20,4 kg",
      "Lunghezza del pendolo;0,75 m",
      "Angolo di caduta;150 °",
    ],
    "Provetta;Posizione intaglio;Temperatura °C;Angolo di risalita °",
    "Saldatura",
  ],
  [
    "Spanish",
    [
      "Colada;H1",
      "Temperatura de ensayo;-196 °C",
      "Masa del péndulo;20,4 kg",
      "Longitud del péndulo;0,75 m",
      "Ángulo de caída;150 °",
    ],
    "Probeta;Posición de la entalla;Temperatura °C;Ángulo de subida °",
    "Soldadura",
  ],
])("a sheet in %s", (_, facts, columns, weld) => {
  test("is read and reduced", () => {
    const text = [...facts, "", columns, `B1;${weld};-196;86,4`].join("\n");
    const certificate = reduceRecords({ reader: "csv", tables: [tableOf(text, ";")], doubts: [] }, 0)!;
    expect(certificate.heats[0]?.heat.value).toBe("H1");
    expect(readings(certificate, "KV")).toMatchObject([{ printed: "139.4", zone: "weld", confidence: 1 }]);
  });
});
