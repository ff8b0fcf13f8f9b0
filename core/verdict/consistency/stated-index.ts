import { formulasOf } from "../../metallurgy/formulas.js";
import { absolute, compare, decimal, formatDecimal, subtract } from "../../quantity/decimal.js";
import { roundHalfEven } from "../../quantity/round.js";
import { chemistryOf } from "../chemistry-of.js";
import type { Judgement, NumberedReading } from "../judgement.js";
import { contradiction } from "./contradiction.js";

/** Indices that follow from chemistry alone; a Ferrite Number may have been measured. */
const COMPUTED = ["CE", "Pcm", "CET", "CEN", "PREN"];

/** The printed elements are rounded, and so is the index: it may be off by this much and still follow (common practice, no source). */
const TOLERANCES: Readonly<Record<string, string>> = { PREN: "0.5" };
const TOLERANCE = decimal("0.02");

/** A printed index must follow from the printed elements by at least one of the formulas that carry its name. */
export function statedIndexContradictions(readings: readonly NumberedReading[]): readonly Judgement[] {
  return readings
    .filter((reading) => COMPUTED.includes(reading.quantity) && reading.bound === undefined)
    .flatMap((stated) => {
      const chemistry = chemistryOf(readings, stated.zone);
      const results = formulasOf(stated.quantity).map((formula) => formula.compute(chemistry.contents));
      const values = results.flatMap((result) =>
        result.kind === "value" && result.high !== undefined ? [result.value] : [],
      );
      const tolerance = TOLERANCES[stated.quantity];
      const limit = tolerance === undefined ? TOLERANCE : decimal(tolerance);
      const follows = values.some((value) => compare(absolute(subtract(value, stated.value)), limit) <= 0);
      if (values.length === 0 || follows) return [];
      const computed = values.map((value) => formatDecimal(roundHalfEven(value, 3))).join(" or ");
      return [
        contradiction(
          `the stated ${stated.quantity} ${stated.printed} does not follow from the elements, which give ${computed}`,
          [stated],
        ),
      ];
    });
}
