import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readsAsTitle } from "../../../core/recogniser/reads-as-title.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { createTitleReader } from "../../../core/recogniser/title-reader.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const titles = createTitleReader();

describe("what is no heat's name", () => {
  it.each([
    "Provetta 1 Snervamento Rp0,2",
    "1 Snervamento Rp0,2",
    "Weight 1200",
    "Probe 2",
    "Éprouvette 3 Rm",
    "Yield strength 0.2 %",
    "KV2",
    "A 80 mm",
    "KV2 4471",
    "1.1 mm",
    "612 MPa",
    "51 %",
  ])("%s", (text) => expect(readsAsTitle(text, titles)).toBe(true));
});

describe("names that look a bit like words, symbols or units", () => {
  it.each([
    "H4471",
    "RM 4471",
    "Si 4471",
    "C 4471",
    "C-4471",
    "H-1",
    "X1000",
    "A12345",
    "Heat 4471",
    "Schmelze 4471",
    "TEST-4471",
    "MOLY 12",
    "44712K",
    "44712",
    "N 14379 B",
    "P7/22",
    "NICK 4471",
    "AL-4471K",
  ])("%s", (text) => expect(readsAsTitle(text, titles)).toBe(false));

  it("any letters and digits without a space", () => {
    fc.assert(fc.property(fc.stringMatching(/^[A-Z]{1,2}-?\d{4,6}[A-Z]?$/), (name) => !readsAsTitle(name, titles)));
  });
});

/** Each puts something where the second heat's name should stand. */
const PLACES = [
  (name: string) => `Colata n.: ${name}`,
  (name: string) => `Colata n. ${name}`,
  (name: string) => `Colata n. | ${name}`,
];

describe.each(PLACES.map((place) => [place("…"), place] as const))("a second heat under %s", (_, place) => {
  const read = (name: string) =>
    recognise(drawDocument(`${place("H4471")}\nRm | 612 MPa\nA | 54 %\n${place(name)}\nRm | 480 MPa\nA | 51 %`), 0);

  it.each(["Provetta 1 Snervamento Rp0,2", "Provetta 1200"])(
    "%s takes no results, and leaves none to the heat before",
    (name) => {
      const certificate = read(name);
      const sure = tell(certificate).filter((line) => !line.endsWith("?"));
      expect(sure).toEqual(["H4471: Rm 612 MPa", "H4471: A 54 %"]);
      expect(certificate.doubts.map(({ code }) => code)).toContain("heat-unreadable");
      expect(certificate.doubts.every(({ evidence }) => evidence !== undefined)).toBe(true);
    },
  );

  it.each(["RM 4471", "H-12"])("%s is read", (name) => {
    expect(tell(read(name))).toEqual(["H4471: Rm 612 MPa", "H4471: A 54 %", `${name}: Rm 480 MPa`, `${name}: A 51 %`]);
  });
});

it("an empty heat label does not leave its results to the heat before", () => {
  const certificate = recognise(
    drawDocument("Heat | H4471\nRm | 612 MPa\nA | 54 %\nHeat No.\nRm | 480 MPa\nA | 51 %"),
    0,
  );
  expect(tell(certificate)).toEqual([
    "H4471: Rm 612 MPa",
    "H4471: A 54 %",
    "heat not stated: Rm 480 MPa ?",
    "heat not stated: A 51 % ?",
  ]);
});

it("a line of titles between rows names no heat, and its rows are not given to another", () => {
  const certificate = recognise(
    drawDocument("Heat No.: H4471\nTest | Rm MPa | A %\n1 | 612 | 54\nHeat No.: Probe 2 Yield\n2 | 480 | 51"),
    0,
  );
  expect(tell(certificate)).toEqual([
    "H4471: Rm 612 MPa",
    "H4471: A 54 %",
    "heat not stated: Rm 480 MPa ?",
    "heat not stated: A 51 % ?",
  ]);
  expect(certificate.doubts.map(({ code }) => code)).toEqual([
    "heat-unreadable",
    "row-without-heat",
    "heat-not-stated",
  ]);
});
