import type { PlacedDoubt } from "../../recogniser/cells.js";
import { indicatedEnergyJ, type Pendulum, releaseEnergyJ } from "./absorbed-energy.js";
import { conductDoubts, isTooSlow } from "./conduct.js";
import { lateralExpansionMm, shearFracturePercent } from "./fracture-appearance.js";
import { lossAtRiseJ, pendulumLosses } from "./losses.js";
import { pendulumDoubts } from "./pendulum-doubts.js";
import type { ImpactPiece, ImpactRecord } from "./record.js";
import { isWithinCapacity } from "./validity.js";

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
  const ofPendulum = pendulumDoubts(pendulumOf(record, record.pieces[0]));
  const doubts: PlacedDoubt[] = [...record.doubts, ...ofPendulum];
  const pieces = record.pieces.map((piece) => {
    const energyValue = energy(record, piece, doubts);
    const values = [energyValue, expansion(piece, energyValue?.value, doubts), shear(record, piece, doubts)];
    doubts.push(...conductDoubts(record, piece, named(piece)));
    return {
      piece,
      values: values
        .filter((value) => value !== undefined)
        .filter((value) => isPossible(value, piece, doubts))
        .map((value) => (isTooSlow(piece) ? { ...value, doubtful: TOO_SLOW } : value))
        .map((value) =>
          value.quantity === "KV" && ofPendulum[0] ? { doubtful: ofPendulum[0].code, ...value } : value,
        ),
    };
  });
  return { pieces, doubts };
}

const TOO_SLOW = "the way from bath to break took too long";

/** The pendulum as it was released for one piece, where the record gives that piece by piece. */
function pendulumOf({ pendulum }: ImpactRecord, piece: ImpactPiece | undefined): Pendulum {
  const { releaseAngle, releaseHeightM } = piece ?? {};
  return {
    ...pendulum,
    ...(releaseAngle !== undefined && { releaseAngle }),
    ...(releaseHeightM !== undefined && { releaseHeightM }),
  };
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
  const pendulum = pendulumOf(record, piece);
  const indicated = indicatedEnergyJ(pendulum, piece.swing);
  if (indicated === undefined) {
    if (Object.keys(piece.swing).length > 0) doubts.push(swingWithoutPendulum(piece));
    return statedEnergy(piece);
  }
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
  notes.push(...capacityNote(record, piece, indicated, pendulum, doubts));
  const differs = differsFromStated(piece, value);
  if (differs) doubts.push(differs);
  const capacityJ = capacityOf(record, pendulum);
  const stopped = capacityJ !== undefined && indicated > STOPPED_SHARE * capacityJ;
  const doubtful =
    differs?.code ?? (stopped ? "the pendulum was all but stopped: check the angle and its unit" : undefined);
  return { quantity: "KV", value, notes, ...(doubtful !== undefined && { doubtful }) };
}

function swingWithoutPendulum(piece: ImpactPiece): PlacedDoubt {
  const message =
    `${named(piece)} has a swing, but the record does not say enough of the pendulum to make an energy of it: ` +
    "state mass, length and release angle, or mass and release height.";
  return { code: "pendulum-not-described", message, place: piece.place, quantity: "KV" };
}

function statedEnergy(piece: ImpactPiece): PieceValue | undefined {
  if (piece.statedEnergyJ === undefined) return undefined;
  return { quantity: "KV", value: piece.statedEnergyJ, notes: ["as the laboratory states it"] };
}

/** A piece that takes nearly all of the energy may not have broken; as likely the rise angle is in another unit. */
const STOPPED_SHARE = 0.95;

function capacityOf(record: ImpactRecord, pendulum: Pendulum): number | undefined {
  return record.pendulum.nominalEnergyJ ?? releaseEnergyJ(pendulum);
}

function capacityNote(
  record: ImpactRecord,
  piece: ImpactPiece,
  energyJ: number,
  pendulum: Pendulum,
  doubts: PlacedDoubt[],
): string[] {
  const capacityJ = capacityOf(record, pendulum);
  if (capacityJ === undefined || isWithinCapacity(energyJ, capacityJ)) return [];
  const message = `${named(piece)}: ${energyJ.toFixed(1)} J is above 80 % of the pendulum's ${capacityJ.toFixed(0)} J, so the value is approximate.`;
  doubts.push({ code: "above-capacity", message, place: piece.place });
  return ["approximate: above 80 % of the pendulum's energy"];
}

/** Dials are read to a joule or so, and laboratories round to one; larger energies carry 2 % of scale. */
const STATED_TOLERANCE = { joules: 1, share: 0.02 };

function differsFromStated(piece: ImpactPiece, value: number): PlacedDoubt | undefined {
  const stated = piece.statedEnergyJ;
  if (stated === undefined) return undefined;
  if (Math.abs(stated - value) <= Math.max(STATED_TOLERANCE.joules, STATED_TOLERANCE.share * value)) return undefined;
  const message =
    `${named(piece)}: the record states ${stated} J, its angles or heights give ${value.toFixed(1)} J ` +
    "(tolerance 1 J or 2 %).";
  return { code: "stated-result-differs", message, place: piece.place, quantity: "KV" };
}

/** The two sides of a piece of 10 mm bulge by less than this together before it lets go (common practice, no source). */
const MOST_EXPANSION_MM = 3.5;
/** In inches every expansion is a number below this, in millimetres hardly one of a piece that was not brittle is. */
const LIKE_INCHES = 0.12;
const TOUGH_J = 20;

function expansion(piece: ImpactPiece, energyJ: number | undefined, doubts: PlacedDoubt[]): PieceValue | undefined {
  const found = expansionOf(piece, doubts);
  if (!found) return undefined;
  const impossible = found.value < 0 || found.value > MOST_EXPANSION_MM;
  const likeInches = found.value < LIKE_INCHES && energyJ !== undefined && energyJ > TOUGH_J;
  if (!impossible && !likeInches) return found;
  const message =
    `${named(piece)}: a lateral expansion of ${found.value.toFixed(3)} mm is ${impossible ? "none" : "hardly one of a piece that took so much energy"}; ` +
    "check its unit (inches, mils or millimetres).";
  doubts.push({ code: "expansion-improbable", message, place: piece.places.LE?.[0] ?? piece.place, quantity: "LE" });
  return { ...found, doubtful: "expansion-improbable" };
}

function expansionOf(piece: ImpactPiece, doubts: PlacedDoubt[]): PieceValue | undefined {
  if (!piece.expansion) {
    if (piece.statedExpansionMm === undefined) {
      doubts.push(...incomplete(piece, "LE", "the four readings of lateral expansion"));
      return undefined;
    }
    return { quantity: "LE", value: piece.statedExpansionMm, notes: ["as the laboratory states it"] };
  }
  const value = lateralExpansionMm(piece.expansion.side1, piece.expansion.side2);
  const notes = ["larger half of each side, both sides added"];
  const stated = piece.statedExpansionMm;
  if (stated === undefined || Math.abs(stated - value) <= 0.02) return { quantity: "LE", value, notes };
  const message = `${named(piece)}: the record states ${stated} mm lateral expansion, its halves give ${value.toFixed(2)} mm.`;
  doubts.push({ code: "stated-result-differs", message, place: piece.places.LE?.[0] ?? piece.place, quantity: "LE" });
  return { quantity: "LE", value, notes, doubtful: "stated-result-differs" };
}

/** Some of the readings that a value needs are there, but not all. */
function incomplete(piece: ImpactPiece, quantity: "LE" | "SFA", readings: string): PlacedDoubt[] {
  const place = piece.places[quantity]?.[0];
  if (!place) return [];
  const message = `${named(piece)}: not all of ${readings} are there, so nothing was computed from them.`;
  return [{ code: "readings-incomplete", message, place, quantity }];
}

function shear(record: ImpactRecord, piece: ImpactPiece, doubts: PlacedDoubt[]): PieceValue | undefined {
  if (!piece.patchMm) {
    if (piece.statedShearPercent === undefined) {
      doubts.push(...incomplete(piece, "SFA", "width and depth of the cleavage patch"));
      return undefined;
    }
    return { quantity: "SFA", value: piece.statedShearPercent, notes: ["as the laboratory states it"] };
  }
  const [width, depth] = piece.patchMm;
  const value = shearFracturePercent(width, depth, piece.widthMm ?? record.widthMm);
  if (value !== undefined) return { quantity: "SFA", value, notes: [`cleavage patch ${width} mm x ${depth} mm`] };
  const message = `${named(piece)}: a cleavage patch of ${width} mm x ${depth} mm does not fit into the section.`;
  doubts.push({ code: "patch-impossible", message, place: piece.place });
  return undefined;
}
