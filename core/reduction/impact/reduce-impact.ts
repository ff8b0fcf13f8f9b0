import { toNumber } from "../../quantity/decimal.js";
import { measureIn } from "../../quantity/measure.js";
import type { PlacedDoubt } from "../../recogniser/cells.js";
import { indicatedEnergyJ, type Pendulum, releaseEnergyJ } from "./absorbed-energy.js";
import { lateralExpansionMm, shearFracturePercent } from "./fracture-appearance.js";
import { lossAtRiseJ, MOST_LOSS_SHARE, pendulumLosses } from "./losses.js";
import type { ImpactPiece, ImpactRecord } from "./record.js";
import {
  impactStandardFrom,
  isWithinCapacity,
  isWithinTemperature,
  LONGEST_TRANSFER_SECONDS,
  temperatureToleranceC,
} from "./validity.js";

/** One value of one piece, in J, mm or percent. */
export interface PieceValue {
  readonly quantity: "KV" | "LE" | "SFA";
  readonly value: number;
  readonly notes: readonly string[];
  /** Why it must not decide, where that is so. */
  readonly doubtful?: string;
}

export interface ReducedPiece {
  readonly piece: ImpactPiece;
  readonly values: readonly PieceValue[];
}

export interface ImpactReduction {
  readonly pieces: readonly ReducedPiece[];
  readonly doubts: readonly PlacedDoubt[];
}

/** Reduces every piece of an impact record; what is outside the test standard is doubted, with the piece's place. */
export function reduceImpact(record: ImpactRecord): ImpactReduction {
  const doubts: PlacedDoubt[] = [...record.doubts, ...lossDoubt(record.pendulum)];
  const pieces = record.pieces.map((piece) => {
    const values = [energy(record, piece, doubts), expansion(piece, doubts), shear(record, piece, doubts)];
    doubts.push(...conductDoubts(record, piece));
    return {
      piece,
      values: values.filter((value) => value !== undefined && isPossible(value, piece, doubts)) as PieceValue[],
    };
  });
  return { pieces, doubts };
}

/** No pendulum holds a megajoule, and no piece is that wide. */
const IMPOSSIBLE = 1e6;

function isPossible({ quantity, value }: PieceValue, piece: ImpactPiece, doubts: PlacedDoubt[]): boolean {
  if (Math.abs(value) < IMPOSSIBLE) return true; // false for NaN as well
  const message = `${named(piece)}: ${quantity} came out as no possible value and was left out: check the numbers.`;
  doubts.push({ code: "impossible-value", message, place: piece.place });
  return false;
}

function named(piece: ImpactPiece): string {
  return piece.id === undefined ? "The piece" : `Piece ${piece.id}`;
}

function energy(record: ImpactRecord, piece: ImpactPiece, doubts: PlacedDoubt[]): PieceValue | undefined {
  const pendulum: Pendulum = {
    ...record.pendulum,
    ...(piece.releaseAngle !== undefined && { releaseAngle: piece.releaseAngle }),
  };
  const indicated = indicatedEnergyJ(pendulum, piece.swing);
  if (indicated === undefined) return statedEnergy(piece);
  if (indicated < 0) {
    const message = `${named(piece)} swung higher than it was released: ${indicated.toFixed(1)} J is no absorbed energy.`;
    doubts.push({ code: "swing-impossible", message, place: piece.place });
    return undefined;
  }

  const losses = pendulumLosses(pendulum);
  const rise = piece.swing.riseAngle;
  const loss = losses && rise !== undefined ? lossAtRiseJ(pendulum, losses, rise) : undefined;
  const value = indicated - (loss ?? 0);
  const notes = [
    loss === undefined
      ? "total energy: losses of pointer, bearings and air not stated, not taken off"
      : `losses of ${loss.toFixed(2)} J taken off ${indicated.toFixed(2)} J`,
  ];
  const doubtful = piece.transferSeconds !== undefined && piece.transferSeconds > LONGEST_TRANSFER_SECONDS;
  notes.push(...capacityNote(record, piece, indicated, pendulum, doubts));
  compareWithStated(piece, value, doubts);
  return { quantity: "KV", value, notes, ...(doubtful && { doubtful: "the way from bath to break took too long" }) };
}

function statedEnergy(piece: ImpactPiece): PieceValue | undefined {
  if (piece.statedEnergyJ === undefined) return undefined;
  return { quantity: "KV", value: piece.statedEnergyJ, notes: ["as the laboratory states it"] };
}

function capacityNote(
  record: ImpactRecord,
  piece: ImpactPiece,
  energyJ: number,
  pendulum: Pendulum,
  doubts: PlacedDoubt[],
): string[] {
  const capacityJ = record.pendulum.nominalEnergyJ ?? releaseEnergyJ(pendulum);
  if (capacityJ === undefined || isWithinCapacity(energyJ, capacityJ)) return [];
  const message = `${named(piece)}: ${energyJ.toFixed(1)} J is above 80 % of the pendulum's ${capacityJ.toFixed(0)} J, so the value is approximate.`;
  doubts.push({ code: "above-capacity", message, place: piece.place });
  return ["approximate: above 80 % of the pendulum's energy"];
}

/** Dials are read to a joule or so, and laboratories round to one; larger energies carry 2 % of scale. */
const STATED_TOLERANCE = { joules: 1, share: 0.02 };

function compareWithStated(piece: ImpactPiece, value: number, doubts: PlacedDoubt[]): void {
  const stated = piece.statedEnergyJ;
  if (stated === undefined) return;
  if (Math.abs(stated - value) <= Math.max(STATED_TOLERANCE.joules, STATED_TOLERANCE.share * value)) return;
  const message =
    `${named(piece)}: the record states ${stated} J, its angles or heights give ${value.toFixed(1)} J ` +
    "(tolerance 1 J or 2 %).";
  doubts.push({ code: "stated-result-differs", message, place: piece.place, quantity: "KV" });
}

function expansion(piece: ImpactPiece, doubts: PlacedDoubt[]): PieceValue | undefined {
  if (!piece.expansion) {
    if (piece.statedExpansionMm === undefined) return undefined;
    return { quantity: "LE", value: piece.statedExpansionMm, notes: ["as the laboratory states it"] };
  }
  const value = lateralExpansionMm(piece.expansion.side1, piece.expansion.side2);
  const stated = piece.statedExpansionMm;
  if (stated !== undefined && Math.abs(stated - value) > 0.02) {
    const message = `${named(piece)}: the record states ${stated} mm lateral expansion, its halves give ${value.toFixed(2)} mm.`;
    doubts.push({ code: "stated-result-differs", message, place: piece.place, quantity: "LE" });
  }
  return { quantity: "LE", value, notes: ["larger half of each side, both sides added"] };
}

function shear(record: ImpactRecord, piece: ImpactPiece, doubts: PlacedDoubt[]): PieceValue | undefined {
  if (!piece.patchMm) {
    if (piece.statedShearPercent === undefined) return undefined;
    return { quantity: "SFA", value: piece.statedShearPercent, notes: ["as the laboratory states it"] };
  }
  const [width, depth] = piece.patchMm;
  const value = shearFracturePercent(width, depth, piece.widthMm ?? record.widthMm);
  if (value !== undefined) return { quantity: "SFA", value, notes: [`cleavage patch ${width} mm x ${depth} mm`] };
  const message = `${named(piece)}: a cleavage patch of ${width} mm x ${depth} mm does not fit into the section.`;
  doubts.push({ code: "patch-impossible", message, place: piece.place });
  return undefined;
}

/** Bath temperature and transfer time, as the test standard limits them. */
function conductDoubts(record: ImpactRecord, piece: ImpactPiece): PlacedDoubt[] {
  const doubts: PlacedDoubt[] = [];
  const specified = celsius(record.specifiedTemperature?.value);
  const actual = celsius(piece.temperature);
  // Without a named standard the wider of the two tolerances is held, so that nothing is called out of it by a guess.
  const standard = impactStandardFrom(record.standard) ?? "ISO 148-1";
  const tolerance = temperatureToleranceC(standard);
  if (specified !== undefined && actual !== undefined && !isWithinTemperature(specified, actual, tolerance)) {
    const message = `${named(piece)} was at ${actual} °C, specified ${specified} °C: more than ${tolerance} °C off (${standard}).`;
    doubts.push({ code: "bath-temperature", message, place: piece.place });
  }
  if (piece.transferSeconds !== undefined && piece.transferSeconds > LONGEST_TRANSFER_SECONDS) {
    const message = `${named(piece)} took ${piece.transferSeconds} s from bath to break; ${LONGEST_TRANSFER_SECONDS} s are allowed.`;
    doubts.push({ code: "transfer-time", message, place: piece.place });
  }
  return doubts;
}

function celsius(measure: Parameters<typeof measureIn>[0] | undefined): number | undefined {
  const value = measure && measureIn(measure, "°C");
  return value && toNumber(value);
}

function lossDoubt(pendulum: Pendulum): PlacedDoubt[] {
  const losses = pendulumLosses(pendulum);
  const capacityJ = pendulum.nominalEnergyJ ?? releaseEnergyJ(pendulum);
  if (!losses || capacityJ === undefined) return [];
  const total = losses.pointerJ + losses.bearingAndAirJ;
  if (total <= MOST_LOSS_SHARE * capacityJ) return [];
  const message = `The pendulum loses ${total.toFixed(2)} J a swing, more than 0.5 % of its ${capacityJ.toFixed(0)} J (ISO 148-2).`;
  return [{ code: "pendulum-losses", message }];
}
