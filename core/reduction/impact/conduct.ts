import { toNumber } from "../../quantity/decimal.js";
import { type Measure, measureIn } from "../../quantity/measure.js";
import type { PlacedDoubt } from "../../recogniser/cells.js";
import type { ImpactPiece, ImpactRecord } from "./record.js";
import {
  impactStandardFrom,
  isWithinTemperature,
  LONGEST_TRANSFER_SECONDS,
  temperatureToleranceC,
} from "./validity.js";

/** Bath temperature and transfer time, as the test standard limits them. */
export function conductDoubts(record: ImpactRecord, piece: ImpactPiece, named: string): PlacedDoubt[] {
  const doubts: PlacedDoubt[] = [];
  const specified = celsius(record.specifiedTemperature?.value);
  const actual = celsius(piece.temperature);
  // Without a named standard the wider of the two tolerances is held, so that nothing is called out of it by a guess.
  const standard = impactStandardFrom(record.standard) ?? "ISO 148-1";
  const tolerance = temperatureToleranceC(standard);
  if (specified !== undefined && actual !== undefined && !isWithinTemperature(specified, actual, tolerance)) {
    const message = `${named} was at ${actual} °C, specified ${specified} °C: more than ${tolerance} °C off (${standard}).`;
    doubts.push({ code: "bath-temperature", message, place: piece.place });
  }
  if (isTooSlow(piece)) {
    const message = `${named} took ${piece.transferSeconds} s from bath to break; ${LONGEST_TRANSFER_SECONDS} s are allowed.`;
    doubts.push({ code: "transfer-time", message, place: piece.place });
  }
  return doubts;
}

/** A piece that took too long was warmer than its bath: nothing measured on it belongs to that temperature. */
export function isTooSlow({ transferSeconds }: ImpactPiece): boolean {
  return transferSeconds !== undefined && transferSeconds > LONGEST_TRANSFER_SECONDS;
}

function celsius(measure: Measure | undefined): number | undefined {
  const value = measure && measureIn(measure, "°C");
  return value && toNumber(value);
}
