import { z } from "zod";
import { ELEMENTS, INDICES, type Quantity } from "../quantity/quantity.js";
import { isUnit, type Unit } from "../quantity/unit.js";
import { tidy } from "./plain-text.js";
import { UNIT_SPELLINGS } from "./vocabulary/units.js";

const DECIMAL = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)`;

/** "0.021", 0.021 or "<0.005": plain decimal notation with a point. A number keeps the digits that stood in the file. */
const value = z
  .union([z.string().regex(new RegExp(`^\\s*(?:<=?|>=?|≤|≥)?\\s*${DECIMAL}\\s*$`)), z.number()])
  .describe('A decimal with a point, as text or number: "0.030". A bound in front where the value is one: "<0.005".');

/** "-196 °C", "12 mm": a decimal and its unit in one text. */
const measure = (what: string, example: string) =>
  z
    .string()
    .regex(new RegExp(`^\\s*${DECIMAL.replace("+-", "+−-")}\\s*\\S.*$`), `write it with its unit, like ${example}`)
    .describe(`${what} with its unit, like ${example}.`);

const text = (describe: string) => z.union([z.string().min(1).max(200), z.number()]).describe(describe);
const date = z.iso.date().describe("Year, month, day: 2026-03-12.");
const unit = z
  .string()
  .max(20)
  .describe("Unit of the values beside it: %, ppm, MPa, N/mm², ksi, J, ft·lbf, mm, mils …");
const zone = z.enum(["base", "weld", "haz"]).describe("Where the test piece or its notch lies.");
const orientation = z.enum(["longitudinal", "transverse", "through-thickness"]);
const test = text("Name of the test or test piece.");
const analysis = z
  .enum(["heat", "product"])
  .describe("heat: cast (ladle) analysis. product: check analysis on the product.");

const symbols = (names: readonly [Quantity, ...Quantity[]]) => z.partialRecord(z.enum(names), value);

const TENSILE = [
  "Rm",
  "Rp0.2",
  "Rp1.0",
  "Rt0.5",
  "ReH",
  "ReL",
  "Yield",
  "A",
  "A4",
  "A11.3",
  "A50",
  "A80",
  "A200",
  "Elongation",
  "Z",
  "Ag",
  "Agt",
  "E",
] as const satisfies readonly Quantity[];

const set = z.strictObject({
  unit,
  singles: z.array(value).max(30).optional(),
  average: value.optional(),
});

/** Certificate (JSON, version 1). XML certificates have the same structure. */
export const jsonCertificateSchema = z
  .strictObject({
    certificate: z.union([z.literal(1), z.literal("1")]).describe("Version of this format: 1."),
    type: z.string().max(60).describe("EN 10204 document type: 2.1, 2.2, 3.1, 3.2.").optional(),
    number: text("Certificate number.").optional(),
    issuer: text("Who issued it.").optional(),
    date: date.optional(),
    testDate: date.optional(),
    order: text("The purchaser's order number.").optional(),
    heats: z
      .array(
        z.strictObject({
          heat: text("Heat (cast) number as printed."),
          grades: z
            .array(
              z.strictObject({
                standard: z.string().max(80).optional(),
                edition: text("Edition of the standard.").optional(),
                grade: text("Grade as the standard calls it."),
              }),
            )
            .max(20)
            .describe("Grades that the certificate claims; several mean all of them.")
            .optional(),
          product: z
            .strictObject({
              form: z.string().max(60).describe("plate, sheet, bar, pipe …").optional(),
              thickness: measure("Thickness, wall or diameter", "12 mm").optional(),
              condition: z.string().max(80).describe("Delivery condition: solution annealed …").optional(),
            })
            .optional(),
          chemistry: z
            .array(
              z.strictObject({
                analysis: analysis.optional(),
                unit,
                zone: zone.optional(),
                values: symbols([...ELEMENTS]),
              }),
            )
            .max(50)
            .optional(),
          tensile: z
            .array(
              z.strictObject({
                test: test.optional(),
                unit: z.string().max(20).describe("Unit of the strengths: MPa, N/mm², kgf/mm², ksi, psi."),
                zone: zone.optional(),
                orientation: orientation.optional(),
                temperature: measure("Test temperature", "20 °C").optional(),
                retest: z.boolean().optional(),
                values: symbols(TENSILE).describe(
                  "Strengths in `unit`, elongations and reduction of area in %, E in GPa.",
                ),
              }),
            )
            .max(200)
            .optional(),
          impact: z
            .array(
              z.strictObject({
                test: test.optional(),
                zone: zone.optional(),
                orientation: orientation.optional(),
                temperature: measure("Test temperature", "-196 °C").optional(),
                width: measure("Width of the test piece", "10 mm").optional(),
                striker: z.union([z.literal(2), z.literal(8), z.literal("2"), z.literal("8")]).optional(),
                retest: z.boolean().optional(),
                KV: set.optional(),
                KU: set.optional(),
                KCV: set.optional(),
                lateralExpansion: set.optional(),
                shearFracture: set.optional(),
              }),
            )
            .max(200)
            .optional(),
          hardness: z
            .array(
              z.strictObject({
                test: test.optional(),
                scale: z.enum(["HBW", "HRB", "HRC", "HV", "Hardness"]),
                zone: zone.optional(),
                singles: z.array(value).max(100).optional(),
                average: value.optional(),
              }),
            )
            .max(50)
            .optional(),
          indices: symbols([...INDICES])
            .describe("Indices as the certificate states them.")
            .optional(),
        }),
      )
      .min(1)
      .max(1000),
  })
  .meta({
    title: "Certificate",
    description: "Results of one inspection certificate, heat by heat.",
  });

export type JsonCertificate = z.infer<typeof jsonCertificateSchema>;

/** A unit as people write it: "N/mm²", "ft·lbf", "mils", "%". */
export function unitFromText(printed: string): Unit | undefined {
  const trimmed = printed.trim();
  if (isUnit(trimmed)) return trimmed;
  const tidied = tidy(trimmed);
  for (const [spelling, unitFound] of UNIT_SPELLINGS) {
    const match = spelling.exec(tidied);
    if (match && match[0].length === tidied.length) return unitFound;
  }
  return undefined;
}
