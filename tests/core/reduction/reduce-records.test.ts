import { describe, expect, test } from "vitest";
import type { Certificate } from "../../../core/certificate/certificate.js";
import { formatDecimal } from "../../../core/quantity/decimal.js";
import { formatMeasure } from "../../../core/quantity/measure.js";
import type { ReadDocument } from "../../../core/recogniser/cells.js";
import { reduceRecords } from "../../../core/reduction/reduce-records.js";
import { AUSTENITIC, austeniticStress } from "../../reference/synthetic-curve.js";
import { tableOf } from "../../reference/table-of.js";

function documentOf(text: string, delimiter: string): ReadDocument {
  return { reader: "csv", tables: [tableOf(text, delimiter)], doubts: [] };
}

function reduce(lines: readonly string[], delimiter = ";"): Certificate | undefined {
  return reduceRecords(documentOf(lines.join("\n"), delimiter), 3);
}

/** Rows "strain %, force kN" of the invented steel on a 10 mm bar. */
function curveRows(mark: "." | ","): string[] {
  const areaMm2 = Math.PI * 25;
  const rows: string[] = [];
  for (let i = 0; i <= 1100; i++) {
    const strain = i < 500 ? i * 4e-5 : 0.02 + (i - 500) * (0.53 / 600);
    const cells = [i * 0.2, strain * 100, (austeniticStress(strain) * areaMm2) / 1000].map((value) => value.toFixed(5));
    rows.push(cells.join(";").replaceAll(".", mark));
  }
  return rows;
}

const ENGLISH = [
  "Laboratory;Nordhavn Materials Testing",
  "Heat;H4471",
  "Specimen ID;T-1",
  "Material;304L",
  "Zone;weld metal",
  "Orientation;transverse",
  "Test temperature;-196;°C",
  "Diameter d0;10;mm",
  "Gauge length L0;50;mm",
  "Final length Lu;77.5;mm",
  "Time;Strain;Load",
  "s;%;kN",
];

const GERMAN = [
  "Prüflabor: Nordhavn",
  "Schmelze-Nr.: H4471",
  "Probenbezeichnung: T-1",
  "Werkstoff: 304L",
  "Bereich: Schweißgut",
  "Probenlage: quer",
  "Prüftemperatur: -196 °C",
  "Durchmesser d0 [mm];10,0",
  "Anfangsmesslänge L0 [mm];50,0",
  "Messlänge nach Bruch [mm];77,5",
  "Prüfzeit [s];Dehnung [%];Prüfkraft [kN]",
];

const FRENCH = [
  "Laboratoire: Nordhavn",
  "N° de coulée: H4471",
  "Éprouvette: T-1",
  "Nuance: 304L",
  "Zone: métal fondu (soudure)",
  "Orientation: travers",
  "Température d'essai: -196 °C",
  "Diamètre [mm];10,0",
  "Longueur initiale entre repères [mm];50,0",
  "Longueur après rupture [mm];77,5",
  "Temps [s];Déformation [%];Charge [kN]",
];

const ITALIAN = [
  "Laboratorio: Nordhavn",
  "Colata: H4471",
  "Provetta: T-1",
  "Materiale: 304L",
  "Zona: saldatura",
  "Direzione: trasversale",
  "Temperatura di prova: -196 °C",
  "Diametro [mm];10,0",
  "Lunghezza iniziale [mm];50,0",
  "Lunghezza finale [mm];77,5",
  "Tempo [s];Deformazione [%];Carico [kN]",
];

const SPANISH = [
  "Laboratorio: Nordhavn",
  "Colada: H4471",
  "Probeta: T-1",
  "Material: 304L",
  "Zona: soldadura",
  "Dirección: transversal",
  "Temperatura de ensayo: -196 °C",
  "Diámetro [mm];10,0",
  "Longitud inicial [mm];50,0",
  "Longitud después de la rotura [mm];77,5",
  "Tiempo [s];Deformación [%];Fuerza [kN]",
];

for (const [language, header, mark] of [
  ["English", ENGLISH, "."],
  ["French", FRENCH, ","],
  ["Italian", ITALIAN, ","],
  ["Spanish", SPANISH, ","],
  ["German, decimal comma", GERMAN, ","],
] as const) {
  describe(`a tensile curve with header lines in ${language}`, () => {
    const certificate = reduce([...header, ...curveRows(mark)])!;
    const heat = certificate.heats[0]!;
    const reading = (quantity: string) => heat.readings.find((candidate) => candidate.quantity === quantity)!;

    test("the heat, the grade claimed and the piece are read", () => {
      expect(heat.heat).toMatchObject({ value: "H4471", confidence: 1 });
      expect(heat.claims[0]?.value).toEqual({ grade: "304L" });
      expect(reading("Rm")).toMatchObject({ zone: "weld", orientation: "transverse", test: "T-1", confidence: 1 });
      expect(formatMeasure(reading("Rm").temperature!)).toBe("-196 °C");
      expect(certificate.doubts).toEqual([]);
    });

    test("the readings are the reduced values, with the work in their notes and evidence in the record", () => {
      expect(Math.abs(Number(formatDecimal(reading("Rp0.2").value)) - AUSTENITIC.proofMPa)).toBeLessThan(0.5);
      expect(reading("Rp0.2")).toMatchObject({ printed: "260", unit: "MPa" });
      expect(reading("Rp0.2").notes?.join()).toMatch(/slope 19\d\.\d GPa .* R² 0\.99/);
      expect(reading("Rp0.2").evidence).toMatchObject({ document: 3, line: header.length + 1, column: 1 });
      expect(reading("A")).toMatchObject({ printed: "55.0", unit: "%" });
      expect(reading("toughness").unit).toBe("MJ/m3");
    });
  });
}

test("a curve without a heat is shown and joins to none", () => {
  const certificate = reduce([...ENGLISH.filter((line) => !line.startsWith("Heat;")), ...curveRows(".")])!;
  expect(certificate.heats[0]?.heat).toMatchObject({ value: "heat not stated, piece T-1", confidence: 0 });
  expect(certificate.doubts.map(({ code }) => code)).toEqual(["heat-not-stated"]);
});

test("strain in % under a heading that says mm/mm: nothing of it can decide", () => {
  const header = ENGLISH.map((line) => (line === "s;%;kN" ? "s;mm/mm;kN" : line));
  const certificate = reduce([...header, ...curveRows(".")])!;
  for (const { confidence, quantity } of certificate.heats[0]!.readings)
    expect(confidence, quantity).toBeLessThan(0.85);
});

test("a column with a unit that does not fit it is not used, and said", () => {
  const header = ENGLISH.map((line) => (line === "s;%;kN" ? "s;%;MPa" : line));
  const certificate = reduce([...header, ...curveRows(".")])!;
  expect(certificate.doubts.map(({ code }) => code)).toContain("column-unit");
  expect(certificate.heats[0]!.readings).toEqual([]);
});

describe("what is no raw record is left to others", () => {
  test("a table of finished results", () => {
    expect(
      reduce(["Heat;C;Si;Mn;Rp0.2 MPa;Rm MPa;A %", "H1;0.02;0.4;1.2;260;560;55", "H2;0.02;0.4;1.2;262;561;56"]),
    ).toBeUndefined();
  });
  test("finished impact results", () => {
    expect(
      reduce(["Zone;Temperature °C;KV1 J;KV2 J;KV3 J", "weld;-196;60;62;70", "haz;-196;90;92;99"]),
    ).toBeUndefined();
  });
  test("a long list of numbers under other headings", () => {
    const rows = Array.from({ length: 200 }, (_, i) => `${i};${i * 2};${i * 3}`);
    expect(reduce(["Item;Quantity;Price", ...rows])).toBeUndefined();
  });
  test("an empty document", () => {
    expect(reduceRecords({ reader: "csv", tables: [], doubts: [] }, 0)).toBeUndefined();
  });
});

const PENDULUM = [
  "Heat;H4471",
  "Test standard;ISO 148-1",
  "Pendulum mass;20.4;kg",
  "Pendulum length;0.75;m",
  "Release angle;150;°",
  "Striker radius;2;mm",
  "Specimen size;10 x 10 x 55 mm",
  "Specified temperature;-196;°C",
  "",
  "Specimen;Zone;Temperature;Rise angle;Side 1 half A;Side 1 half B;Side 2 half A;Side 2 half B;Patch width;Patch depth",
  ";;°C;°;mm;mm;mm;mm;mm;mm",
];

describe("a pendulum table", () => {
  const certificate = reduce([
    ...PENDULUM,
    "W1;WM;-195.6;120;0.20;0.24;0.19;0.15;5;5",
    "W2;WM;-195.8;118.5;0.25;0.24;0.20;0.22;5;4",
    "W3;WM;-195.7;121.2;0.19;0.21;0.20;0.18;6;5",
    "B1;base;-195.9;60;0.60;0.61;0.55;0.52;0;0",
  ])!;
  const { readings } = certificate.heats[0]!;
  const of = (quantity: string, zone: string) =>
    readings.filter((reading) => reading.quantity === quantity && reading.zone === zone);

  test("energies by K = M (cos β - cos α)", () => {
    expect(of("KV", "weld").map(({ printed }) => printed)).toEqual(["54.9", "58.3", "52.2"]);
    expect(of("KV", "weld")[0]).toMatchObject({ striker: 2, statistic: "single", unit: "J", confidence: 1 });
    expect(of("KV", "weld")[0]!.evidence).toEqual({ document: 3, line: 12, column: 4 });
    expect(of("KV", "weld")[0]!.notes?.join()).toContain("losses of pointer, bearings and air not stated");
  });

  test("pieces of one set share its name and the specified temperature, for a bath within tolerance", () => {
    const sets = new Set(of("KV", "weld").map(({ test: set, temperature }) => `${set} ${formatMeasure(temperature!)}`));
    expect([...sets]).toEqual(["record, weld, -196 °C -196 °C"]);
  });

  test("lateral expansion and shear", () => {
    expect(of("LE", "weld").map(({ printed }) => printed)).toEqual(["0.43", "0.47", "0.41"]);
    expect(of("SFA", "weld").map(({ printed }) => printed)).toEqual(["69", "75", "62"]);
    expect(of("SFA", "base").map(({ printed }) => printed)).toEqual(["100"]);
  });

  test("the piece that took more than 80 % of the pendulum is approximate", () => {
    expect(certificate.doubts).toEqual([]);
    const hard = reduce([...PENDULUM, "B1;base;-196;40;0.6;0.6;0.5;0.5;0;0"])!;
    expect(hard.doubts.map(({ code }) => code)).toEqual(["above-capacity"]);
  });

  test("a bath too warm keeps its own temperature and is doubted", () => {
    const warm = reduce([...PENDULUM, "W1;WM;-193.9;120;0.2;0.2;0.2;0.2;5;5"])!;
    expect(formatMeasure(warm.heats[0]!.readings[0]!.temperature!)).toBe("-193.9 °C");
    expect(warm.doubts.map(({ code }) => code)).toEqual(["bath-temperature"]);
  });

  test("a rise above the release, and a patch larger than the section, give no value", () => {
    const wrong = reduce([...PENDULUM, "W1;WM;-196;151;0.2;0.2;0.2;0.2;10;9"])!;
    expect(wrong.heats[0]!.readings.map(({ quantity }) => quantity)).toEqual(["LE"]);
    expect(wrong.doubts.map(({ code }) => code)).toEqual(["swing-impossible", "patch-impossible"]);
  });

  test("the laboratory's own energy is held against its angle; the transfer time against 5 s", () => {
    const header = PENDULUM.map((line) =>
      line.startsWith("Specimen;")
        ? "Specimen;Zone;Temperature;Rise angle;Energy;Transfer time"
        : line.startsWith(";;")
          ? ";;°C;°;J;s"
          : line,
    );
    const table = reduce([...header, "W1;WM;-196;120;55;4", "W2;WM;-196;120;64;4", "W3;WM;-196;120;55;6"])!;
    expect(table.doubts.map(({ code, quantity }) => [code, quantity])).toEqual([
      ["stated-result-differs", "KV"],
      ["transfer-time", undefined],
    ]);
    expect(table.heats[0]!.readings.map(({ confidence }) => confidence)).toEqual([1, 0.5, 0.5]);
  });

  test("sub-size pieces carry their width", () => {
    const small = reduce([
      ...PENDULUM.map((line) => line.replace("10 x 10", "10 x 5")),
      "W1;WM;-196;120;0.2;0.2;0.2;0.2;2;2",
    ])!;
    expect(formatMeasure(small.heats[0]!.readings[0]!.specimenWidth!)).toBe("5 mm");
    expect(small.heats[0]!.readings.find(({ quantity }) => quantity === "SFA")?.printed).toBe("90");
  });
});

describe("several pieces in one table", () => {
  /** Two bars of the invented steel beside each other, the second shorter and, by `share`, stronger. */
  function beside(share: number, titles: readonly string[]): string[] {
    const rows = Array.from({ length: 700 }, (_, i) => {
      const strain = i < 500 ? i * 4e-5 : 0.02 + (i - 500) * (0.53 / 200);
      const stress = austeniticStress(strain);
      const second = i < 650 ? `${(strain * 100).toFixed(5)};${(stress * share).toFixed(3)}` : ";";
      return `${(strain * 100).toFixed(5)};${stress.toFixed(3)};${second}`;
    });
    return [...titles, "Strain %;Stress MPa;Strain %;Stress MPa", ...rows];
  }
  const strengths = (certificate: Certificate) =>
    certificate.heats.map(({ heat, readings }) => {
      const strength = readings.find(({ quantity }) => quantity === "Rm")!;
      return [heat.value, strength.test, strength.printed, strength.evidence, strength.confidence];
    });

  test.each([
    ["a name over each, the heat for both", ["Heat;H4471", "T-1;;T-2"]],
    ["one name at the left and a value over each", ["Heat;H4471;;H4471", "Specimen;T-1;;T-2"]],
    ["name and value over each", ["Heat;H4471;Heat;H4471", "Specimen;T-1;Specimen;T-2"]],
  ])("side by side, %s: each is reduced by itself", (_what, titles) => {
    const certificate = reduce(beside(1.1, titles))!;
    const line = titles.length + 2;
    expect(strengths(certificate)).toEqual([
      ["H4471", "T-1", "620", { document: 3, line, column: 1 }, 1],
      ["H4471", "T-2", "682", { document: 3, line, column: 3 }, 1],
    ]);
    expect(certificate.doubts).toEqual([]);
  });

  test("side by side, with a line that cannot be told apart: it is left out and said", () => {
    const certificate = reduce(beside(1.1, ["Heat;H4471", "T-1;;T-2", "Width;12.5;12.4;12.3"]))!;
    expect(certificate.doubts.map(({ code }) => code)).toEqual(["header-line-unclear", "header-line-unclear"]);
    expect(strengths(certificate).map(([, test]) => test)).toEqual(["T-1", "T-2"]);
  });

  const single = (share: number) =>
    beside(1, []).map((line, index) => {
      const [strain, stress] = line.split(";");
      return index === 0 ? `${strain};${stress}` : `${strain};${(Number(stress) * share).toFixed(3)}`;
    });

  test("one under another, each under its own lines", () => {
    const certificate = reduce([
      ...["Heat;H4471", "Specimen;T-1", ...single(1)],
      ...["Heat;H4480", "Specimen;T-2", ...single(0.9)],
    ])!;
    expect(strengths(certificate).map(([heat, test, printed]) => [heat, test, printed])).toEqual([
      ["H4471", "T-1", "620"],
      ["H4480", "T-2", "558"],
    ]);
    expect(certificate.doubts).toEqual([]);
  });

  test.each([
    ["words", ["stopped by operator;"]],
    ["the headings again", ["Strain %;Stress MPa"]],
  ])("a curve interrupted by %s decides nothing", (_what, between) => {
    const rows = single(1);
    const certificate = reduce(["Heat;H4471", ...rows.slice(0, 600), ...between, ...rows.slice(600)])!;
    expect(certificate.doubts.map(({ code }) => code)).toEqual(["record-interrupted"]);
    for (const { confidence } of certificate.heats[0]!.readings) expect(confidence).toBeLessThan(0.85);
  });

  test("two different columns of stress over one strain decide nothing; the same one in another unit does no harm", () => {
    const rows = single(1);
    const withSecond = (heading: string, factor: number) => [
      "Heat;H4471",
      `${rows[0]};${heading}`,
      ...rows.slice(1).map((line) => `${line};${(Number(line.split(";")[1]) * factor).toFixed(4)}`),
    ];
    const different = reduce(withSecond("Stress MPa", 1.1))!;
    expect(different.doubts.map(({ code }) => code)).toEqual(["columns-ambiguous"]);
    for (const { confidence } of different.heats[0]!.readings) expect(confidence).toBeLessThan(0.85);
    expect(reduce(withSecond("Stress ksi", 1 / 6.894757))!.doubts).toEqual([]);
  });
});
