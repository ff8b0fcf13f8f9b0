import type { HeatRecord, Reading } from "../../certificate/certificate.js";
import { type Doubt, describePlace, type Evidence, type Place } from "../../certificate/evidence.js";
import { formatDecimal, parseDecimal, toNumber } from "../../quantity/decimal.js";
import { formatMeasure, type Measure, measureIn } from "../../quantity/measure.js";
import { reportUnit } from "../../quantity/quantity.js";
import { roundHalfEven } from "../../quantity/round.js";
import { heatOfRecord } from "../heat-of-record.js";
import { keptDecimal } from "../tensile/round-result.js";
import type { ImpactPiece, ImpactRecord } from "./record.js";
import type { ImpactReduction, PieceValue, ReducedPiece } from "./reduce-impact.js";
import { impactStandardFrom, isWithinTemperature, temperatureToleranceC } from "./validity.js";

/** Reduced pieces as readings of their heats; pieces of one set share the set's name and temperature. */
export function impactHeats(
  record: ImpactRecord,
  reduction: ImpactReduction,
  table: string,
  documentIndex: number,
): { readonly heats: readonly HeatRecord[]; readonly doubts: readonly Doubt[] } {
  const start: Evidence = { ...record.place, document: documentIndex };
  const byHeat = new Map<string, ReducedPiece[]>();
  for (const reduced of reduction.pieces) {
    const heat = reduced.piece.heat ?? record.heat?.value ?? "";
    byHeat.set(heat, [...(byHeat.get(heat) ?? []), reduced]);
  }
  const doubts: Doubt[] = [];
  const heats = [...byHeat].map(([heat, pieces]) => {
    const noted = heat === "" ? undefined : heatNoted(heat, record, pieces[0]!.piece);
    const named = heatOfRecord(noted, undefined, start);
    doubts.push(...named.doubts);
    const readings = pieces.flatMap((reduced) => toReadings(record, reduced, pieces, table, documentIndex));
    for (const { place, ...doubt } of reduction.doubts) {
      const concerns = isOf(place, pieces) || !isOf(place, reduction.pieces);
      if (concerns)
        doubts.push({
          ...doubt,
          evidence: place ? { ...place, document: documentIndex } : start,
          heat: named.heat.value,
        });
    }
    return { heat: named.heat, readings, claims: [], product: {} };
  });
  // Where no piece could be read there is no heat to say it of.
  if (heats.length === 0) {
    doubts.push(
      ...reduction.doubts.map(({ place, ...doubt }) => ({
        ...doubt,
        evidence: place ? { ...place, document: documentIndex } : start,
      })),
    );
  }
  return { heats, doubts };
}

/** Whether a place is one of these pieces' own. What is no piece's concerns them all. */
function isOf(place: Place | undefined, pieces: readonly ReducedPiece[]): boolean {
  return (
    place !== undefined &&
    pieces.some(({ piece }) => piece.place === place || Object.values(piece.places).flat().includes(place))
  );
}

function heatNoted(heat: string, record: ImpactRecord, piece: ImpactPiece) {
  if (record.heat?.value === heat && piece.heat === undefined) return record.heat;
  return { value: heat, printed: heat, place: piece.place };
}

function toReadings(
  record: ImpactRecord,
  reduced: ReducedPiece,
  pieces: readonly ReducedPiece[],
  table: string,
  documentIndex: number,
): Reading[] {
  const { piece } = reduced;
  const zone = piece.zone ?? record.zone;
  const temperature = temperatureOfSet(record, piece, pieces);
  const widthMm = piece.widthMm ?? record.widthMm;
  const width = widthMm === undefined ? undefined : parseDecimal(String(widthMm));
  const orientation = piece.orientation ?? record.orientation;
  const set = piece.set ?? [table, zone, temperature && formatMeasure(temperature)].filter(Boolean).join(", ");
  return reduced.values.map((value) => ({
    quantity: value.quantity,
    printed: printed(value),
    value: keptDecimal(value.value),
    unit: reportUnit(value.quantity),
    confidence: value.doubtful === undefined ? 1 : 0.5,
    evidence: { ...(piece.places[value.quantity]?.[0] ?? piece.place), document: documentIndex },
    ...(zone && { zone }),
    ...(temperature && { temperature }),
    ...(orientation && { orientation }),
    ...(width && { specimenWidth: { value: width, unit: "mm" as const } }),
    ...(record.striker && { striker: record.striker }),
    test: set,
    statistic: "single" as const,
    notes: notesOf(record, piece, value, temperature),
  }));
}

function notesOf(
  record: ImpactRecord,
  piece: ImpactPiece,
  value: PieceValue,
  temperature: Measure | undefined,
): string[] {
  const notes = [...value.notes];
  const places = piece.places[value.quantity] ?? [];
  if (places.length > 1) notes.push(`read at ${placesInWords(places)}`);
  if (piece.id !== undefined) notes.unshift(`piece ${piece.id}`);
  if (value.quantity === "KV" && record.striker === undefined) notes.push("striker not stated");
  if (piece.temperature && temperature && formatMeasure(piece.temperature) !== formatMeasure(temperature)) {
    notes.push(`bath at ${formatMeasure(piece.temperature)}`);
  }
  if (value.doubtful !== undefined) notes.push(`doubted: ${value.doubtful}`);
  return notes;
}

/** "sheet S, cells F17, G17": of one row, so what they share is said once. */
function placesInWords(places: readonly Place[]): string {
  const cells = places.flatMap((place) => ("cell" in place ? [place.cell] : []));
  const columns = places.flatMap((place) => ("column" in place ? [place.column] : []));
  if (cells.length === places.length) return `cells ${cells.join(", ")}`;
  if (columns.length === places.length) return `columns ${columns.join(", ")}`;
  return places.map(describePlace).join("; ");
}

/**
 * The specified temperature, for a bath within tolerance of it. Otherwise the bath's own; where the pieces of one set differ by
 * the bath's wandering only, the warmest, which is the least that the set can claim.
 */
function temperatureOfSet(
  record: ImpactRecord,
  piece: ImpactPiece,
  pieces: readonly ReducedPiece[],
): Measure | undefined {
  const specified = record.specifiedTemperature?.value;
  const actual = piece.temperature;
  if (!actual) return specified;
  const tolerance = temperatureToleranceC(impactStandardFrom(record.standard) ?? "ISO 148-1");
  const actualC = celsius(actual);
  if (specified && isWithinTemperature(celsius(specified), actualC, tolerance)) return specified;
  let warmest = actual;
  for (const { piece: other } of pieces) {
    const sameSet = other.set === piece.set && other.zone === piece.zone;
    if (!sameSet || !other.temperature || Math.abs(celsius(other.temperature) - actualC) > tolerance) continue;
    if (celsius(other.temperature) > celsius(warmest)) warmest = other.temperature;
  }
  return warmest;
}

function celsius(measure: Measure): number {
  return toNumber(measureIn(measure, "°C")!);
}

/** Energies to 0.1 J, expansion to 0.01 mm, shear to whole percents: what a dial, a gauge and an eye can tell (common practice). */
function printed({ quantity, value }: PieceValue): string {
  return formatDecimal(roundHalfEven(keptDecimal(value), { KV: 1, LE: 2, SFA: 0 }[quantity]));
}
