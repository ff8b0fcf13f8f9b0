import { describe, expect, it } from "vitest";
import { findDocumentType } from "../../../core/recogniser/document-type.js";
import { readDate } from "../../../core/recogniser/read-date.js";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";

describe("document type", () => {
  it.each([
    ["EN 10204 3.1", "3.1"],
    ["EN 10204-3.1", "3.1"],
    ["EN 10204:2004 type 3.1", "3.1"],
    ["INSPECTION CERTIFICATE 3.1 according to EN 10204:2004", "3.1"],
    ["Abnahmeprüfzeugnis 3.2", "3.2"],
    ["3.1.B", "3.1"],
    ["EN 10204 / 3.1.A", "3.2"],
    ["Certificat de réception 3.1", "3.1"],
    ["Test report 2.2 according to EN 10204", "2.2"],
    ["EN 10204 3.1 / 3.2", undefined],
    ["EN 10204:2004", undefined],
    ["thickness 3.1 mm", undefined],
  ])("%s is %s", (text, type) => expect(findDocumentType(text)?.type).toBe(type));
});

describe("date", () => {
  it.each([
    ["2026-03-12", "2026-03-12"],
    ["12.03.2026", "2026-03-12"],
    ["12 March 2026", "2026-03-12"],
    ["12. März 2026", "2026-03-12"],
    ["12 mars 2026", "2026-03-12"],
    ["March 12, 2026", "2026-03-12"],
    ["25/03/2026", "2026-03-25"],
    ["03/25/2026", "2026-03-25"],
    ["03/04/2026", "ambiguous"],
    ["31.02.2026", undefined],
    ["soon", undefined],
  ])("%s is %s", (text, date) => expect(readDate(text)).toBe(date));
});

describe("product", () => {
  const product = (lines: string) => {
    const { form, thickness, condition } = recognise(drawDocument(`${lines}\n\nHeat | C % | Mn %\nH1 | 0.02 | 1.5`), 0)
      .heats[0]!.product;
    return [
      form?.value,
      thickness && `${thickness.value.value.digits} ${thickness.value.value.places} ${thickness.value.unit}`,
      condition?.value,
    ];
  };

  it.each([
    ["Product | Hot rolled stainless steel plates\nThickness | 12 mm", ["plate", "12 0 mm", undefined]],
    [
      "Produkt | Grobblech\nAbmessung | 12,5 x 2000 x 6000\nLieferzustand | lösungsgeglüht",
      ["plate", "125 1 mm", "solution annealed"],
    ],
    // Sheet and plate are one word in four languages.
    ["Produkt | Blech", [undefined, undefined, undefined]],
    ["Produit | Tôles", [undefined, undefined, undefined]],
    ["Prodotto | Lamiere", [undefined, undefined, undefined]],
    ["Producto | Chapas", [undefined, undefined, undefined]],
    ["Produit | Tôle forte", ["plate", undefined, undefined]],
    ["Produkt | Feinblech", ["sheet", undefined, undefined]],
    ["Product | Seamless pipe\nDimensions | 168.3 x 7.11 mm", ["pipe", "711 2 mm", undefined]],
    ["Product | Plate\nThickness | .500 in\nCondition | Annealed", ["plate", "500 3 in", "annealed"]],
    ["Condition | 1/4 hard", [undefined, undefined, "1/4 hard"]],
  ])("%s", (lines, expected) => expect(product(lines)).toEqual(expected));
});
