import { expect, it } from "vitest";
import { readCertificate } from "../../../../core/recogniser/read-certificate.js";
import { tell } from "../../../core/recogniser/tell.js";
import { readHere } from "../read-in-process.js";
import { drawPdf, drawTable, drawText, type Pdf, type Ruling } from "./draw-page.js";

async function tellPage(draw: (pdf: Pdf) => void): Promise<string[]> {
  return tell(readCertificate(await readHere(await drawPdf(draw)), 0));
}

it("heats and zones written once, halfway down their rows, without lines", async () => {
  const told = await tellPage((pdf) => {
    const columns = [40, 75, 140, 190, 250];
    const line = (y: number, texts: readonly string[]) => {
      texts.forEach((text, index) => {
        if (text !== "") drawText(pdf, text, columns[index]!, y);
      });
    };
    line(60, ["Heat", "Zone", "Piece", "KV J", "Average J"]);
    line(76, ["", "", "1", "88", ""]);
    line(92, ["", "Weld", "2", "91", "86"]);
    line(108, ["", "", "3", "79", ""]);
    line(116, ["K71204", "", "", "", ""]);
    line(124, ["", "", "1", "102", ""]);
    line(140, ["", "HAZ", "2", "97", "103"]);
    line(156, ["", "", "3", "110", ""]);
    line(172, ["", "", "1", "62", ""]);
    line(188, ["K71209", "Weld", "2", "66", "62"]);
    line(204, ["", "", "3", "59", ""]);
  });
  expect(told).toEqual([
    "K71204: KV 88 J weld",
    "K71204: KV 91 J weld",
    "K71204: KV 86 J weld average",
    "K71204: KV 79 J weld",
    "K71204: KV 102 J haz",
    "K71204: KV 97 J haz",
    "K71204: KV 103 J haz average",
    "K71204: KV 110 J haz",
    "K71209: KV 62 J weld",
    "K71209: KV 66 J weld",
    "K71209: KV 62 J weld average",
    "K71209: KV 59 J weld",
  ]);
});

const GROUPS = [
  ["Heat", "Temp. °C", ["Absorbed energy KV [J]", 4], ["Lateral expansion [mm]", 3]],
  ["", "", "1", "2", "3", "Avg.", "1", "2", "3"],
  ["K71204", "-196", "88", "91", "79", "86", "0.91", "0.95", "0.84"],
] as const;

it.each(["all", "columns", "rows", "none"] as Ruling[])("energy and expansion in groups, lines: %s", async (ruling) => {
  const told = await tellPage((pdf) => {
    drawTable(pdf, { x: 40, y: 60, widths: [50, 45, 40, 40, 40, 40, 40, 40, 40], rows: GROUPS, ruling });
  });
  expect(told).toEqual([
    ...["88", "91", "79"].map((value) => `K71204: KV ${value} J -196 °C`),
    "K71204: KV 86 J -196 °C average",
    ...["0.91", "0.95", "0.84"].map((value) => `K71204: LE ${value} mm -196 °C`),
  ]);
});
