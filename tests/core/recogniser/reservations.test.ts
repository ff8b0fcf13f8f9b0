import { describe, expect, test } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { isAdverse } from "../../../core/recogniser/reservations.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

const reservationsOf = (line: string) =>
  recognise(drawDocument(`${line}\n\nHeat | C | Cr\nH4471 | 0.021 | 18.12`), 0).reservations?.map(({ value }) => value);

describe("what a paper says against itself", () => {
  test.each([
    "PRELIMINARY",
    "Preliminary certificate",
    "DRAFT",
    "Vorläufiges Zeugnis",
    "Certificat provisoire",
    "ANNULLATO",
    "Certificado anulado",
    "Values are typical values, not measured on this delivery",
    "Die Angaben sind Richtwerte",
    "The material does not conform to EN 10028-7",
    "Result | NOT ACCEPTED",
    "Prüfergebnis: nicht bestanden",
  ])("%s", (line) => {
    expect(reservationsOf(line)).toHaveLength(1);
  });

  test.each([
    "This certificate is not valid without signature",
    "Void if altered",
    "Nonconforming material will be replaced",
    "Draft tube assembly, drawing 4711, for the turbine of unit 2",
    "The material conforms to EN 10028-7",
    "Result | Accepted",
    "Prüfergebnis: bestanden",
    "Failure location: base metal",
  ])("not by %s", (line) => {
    expect(reservationsOf(line)).toBeUndefined();
  });
});

test.each([
  ["failed - see retest", true],
  ["Rejected", true],
  ["nicht i. O.", true],
  ["non conforme", true],
  ["No apto", true],
  ["out of spec", true],
  ["passed", false],
  ["conforme", false],
  ["failure mode: ductile", false],
  ["NOK", true],
  ["Nokia plate", false],
])("beside a row, %j counts against it: %s", (text, isSo) => {
  expect(isAdverse(text)).toBe(isSo);
});

test("an adverse remark lowers its own row, and no other", () => {
  const { doubts, ...certificate } = recognise(
    drawDocument(`
Heat  | Rp0.2 [MPa] | Rm [MPa] | Remark
H4471 | 291         | 618      | failed, see retest
H4472 | 280         | 590      | passed`),
    0,
  );
  expect(tell({ ...certificate, doubts })).toEqual([
    "H4471: Rp0.2 291 MPa ?",
    "H4471: Rm 618 MPa ?",
    "H4472: Rp0.2 280 MPa",
    "H4472: Rm 590 MPa",
  ]);
  expect(doubts).toMatchObject([{ code: "adverse-remark", heat: "H4471" }]);
});

test("several contents in one cell are told once and are not relied on", () => {
  const { doubts, ...certificate } = recognise(drawDocument("Heat | C | Cr\nH4471 | 0.021 / 0.034 | 18.12"), 0);
  expect(tell({ ...certificate, doubts })).toEqual(["H4471: C 0.021 % ?", "H4471: C 0.034 % ?", "H4471: Cr 18.12 %"]);
  expect(doubts.map(({ code }) => code)).toEqual(["several-analyses"]);
});
