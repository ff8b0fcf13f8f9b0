import { z } from "zod";
import { decimal, parseDecimal } from "../quantity/decimal.js";
import { isQuantity, reportUnit } from "../quantity/quantity.js";
import { isUnit, type Unit } from "../quantity/unit.js";
import type { Certificate, HeatRecord, Reading, Statement } from "./certificate.js";
import { type Doubt, describePlace, type Place } from "./evidence.js";
import { normaliseHeatNumber } from "./join-heats.js";

const placeSchema = z.union(
  [
    z.strictObject({ page: z.int().positive(), box: z.tuple([z.number(), z.number(), z.number(), z.number()]) }),
    z.strictObject({ sheet: z.string(), cell: z.string() }),
    z.strictObject({ line: z.int().positive(), column: z.int().positive() }),
    z.strictObject({ pointer: z.string() }),
  ],
  {
    error:
      'is not a place: copy the reading\'s evidence from the JSON report without its "document", as page and box, sheet and ' +
      "cell, line and column, or pointer",
  },
);

const NOT_A_QUANTITY = 'is not a quantity, and not "heat"; use the symbols of the report, such as C or Rp0.2';
const NOT_TEXT = 'is not text; write the number in quotes, because its digits count: "0.024"';

const itemSchema = z.strictObject({
  /** SHA-256 of the document, as the report states it. */
  document: z.string().regex(/^[0-9a-f]{64}$/, "is not a SHA-256; copy it from the document in the report"),
  /** Where it stands, as the report states it. */
  evidence: placeSchema,
  /** Quantity symbol, or "heat" for the heat number. */
  quantity: z.string().refine((name) => name === "heat" || isQuantity(name), NOT_A_QUANTITY),
  /** What the person reads there, with a decimal point. Left out: the value in the report is confirmed as it is. */
  value: z.string(NOT_TEXT).max(60).optional(),
  unit: z
    .custom<Unit>(
      (text) => typeof text === "string" && isUnit(text),
      "is not a known unit; write it as the report does",
    )
    .optional(),
  /** For a place from which nothing was read: the heat that the value belongs to. */
  heat: z.string().max(60).optional(),
  analysis: z.enum(["heat", "product"]).optional(),
});

/** Corrections (JSON, version 1): what a named person confirms or corrects after looking at the document. */
export const correctionsSchema = z.strictObject({
  corrections: z.literal(1),
  by: z.string().min(1, "is empty: name the person who looked at the document").max(120),
  /** ISO date. */
  date: z.iso.date("is not a date; write it as 2026-03-09"),
  items: z.array(itemSchema).min(1).max(1000),
});
export type Corrections = z.infer<typeof correctionsSchema>;
type Item = z.infer<typeof itemSchema>;

/**
 * The certificate as the person corrected it. Both values stay visible: `printed` remains what was read, a note says who made it
 * what. A correction that fits nothing is a doubt, never dropped.
 */
export function applyCorrections(
  certificate: Certificate,
  position: number,
  sha256: string,
  corrections: Corrections,
): Certificate {
  const signed = `by ${corrections.by} on ${corrections.date}`;
  return corrections.items
    .filter((item) => item.document === sha256)
    .reduce((current, item) => applyOne(current, item, signed, position), certificate);
}

function applyOne(certificate: Certificate, item: Item, signed: string, position: number): Certificate {
  if (item.quantity === "heat") return correctHeatNumber(certificate, item, signed, position);
  if (item.value !== undefined && parseDecimal(item.value) === undefined) {
    return doubted(certificate, item, position, `the value ${JSON.stringify(item.value)} is not a decimal number`);
  }
  let found = false;
  const heats = certificate.heats.map((record) => ({
    ...record,
    readings: record.readings.map((reading) => {
      if (reading.quantity !== item.quantity || !isSamePlace(reading.evidence, item.evidence)) return reading;
      found = true;
      return correctReading(reading, item, signed);
    }),
  }));
  if (found) return settled({ ...certificate, heats }, item);
  return addReading(certificate, item, signed, position);
}

function correctReading(reading: Reading, item: Item, signed: string): Reading {
  const notes = reading.notes ?? [];
  if (item.value === undefined) return { ...reading, confidence: 1, notes: [...notes, `confirmed ${signed}`] };
  const { bound: _bound, ...facts } = reading;
  return {
    ...facts,
    value: decimal(item.value),
    unit: item.unit ?? reading.unit,
    confidence: 1,
    ...(item.analysis && { analysis: item.analysis }),
    notes: [...notes, `corrected from "${reading.printed}" to ${item.value} ${signed}`],
  };
}

/** Nothing was read at the place: a person may enter what stands there, for a heat that the document names. */
function addReading(certificate: Certificate, item: Item, signed: string, position: number): Certificate {
  const { quantity, value, heat } = item;
  if (value === undefined || heat === undefined || !isQuantity(quantity)) {
    return doubted(certificate, item, position, "nothing was read there; to enter a value, give value and heat");
  }
  const key = normaliseHeatNumber(heat);
  const index = certificate.heats.findIndex((record) => normaliseHeatNumber(record.heat.value) === key);
  if (index < 0) return doubted(certificate, item, position, `the document names no heat ${heat}`);
  const reading: Reading = {
    quantity,
    printed: value,
    value: decimal(value),
    unit: item.unit ?? reportUnit(quantity),
    confidence: 1,
    evidence: { document: position, ...(item.evidence as Place) },
    ...(item.analysis && { analysis: item.analysis }),
    notes: [`entered ${signed}; it was not read`],
  };
  const heats = certificate.heats.map((record, at) =>
    at === index ? { ...record, readings: [...record.readings, reading] } : record,
  );
  return settled({ ...certificate, heats }, item);
}

/** What a person has looked at is no longer in doubt. */
function settled(certificate: Certificate, item: Item): Certificate {
  const doubts = certificate.doubts.filter(
    ({ evidence, quantity }) => !(evidence && quantity === item.quantity && isSamePlace(evidence, item.evidence)),
  );
  return { ...certificate, doubts };
}

function correctHeatNumber(certificate: Certificate, item: Item, signed: string, position: number): Certificate {
  const isMeant = ({ heat }: HeatRecord) => isSamePlace(heat.evidence, item.evidence);
  if (!certificate.heats.some(isMeant)) return doubted(certificate, item, position, "no heat number was read there");
  const corrected = (heat: Statement): Statement => ({ ...heat, value: item.value ?? heat.value, confidence: 1 });
  const message = `The heat number was ${item.value === undefined ? "confirmed" : `corrected to ${item.value}`} ${signed}.`;
  return {
    ...certificate,
    heats: certificate.heats.map((record) => (isMeant(record) ? { ...record, heat: corrected(record.heat) } : record)),
    doubts: [...certificate.doubts, noteOf("heat-number-confirmed", message, item, position)],
  };
}

/** Somebody saw a value that the judge does not have, so whatever heat it may belong to cannot pass on that quantity. */
function doubted(certificate: Certificate, item: Item, position: number, because: string): Certificate {
  const note = notApplied(item, position, because);
  if (!isQuantity(item.quantity)) return { ...certificate, doubts: [...certificate.doubts, note] };
  const names = certificate.heats.map(({ heat }) => heat.value);
  const meant = names.filter(
    (name) => item.heat !== undefined && normaliseHeatNumber(name) === normaliseHeatNumber(item.heat),
  );
  const doubts = (meant.length > 0 ? meant : names).map((heat) => ({ ...note, heat, quantity: item.quantity }));
  return { ...certificate, doubts: [...certificate.doubts, ...(doubts.length > 0 ? doubts : [note])] };
}

/** For a document from which nothing could be read: what was said of it is still not dropped. */
export function correctionsOfUnread(position: number, sha256: string, { items }: Corrections): Doubt[] {
  return items
    .filter(({ document }) => document === sha256)
    .map((item) => notApplied(item, position, "the document could not be read"));
}

export const CORRECTION_NOT_APPLIED = "correction-not-applied";

function notApplied(item: Item, position: number, because: string): Doubt {
  const message = `The correction of ${item.quantity} at ${describePlace(item.evidence as Place)} was not applied: ${because}.`;
  return noteOf(CORRECTION_NOT_APPLIED, message, item, position);
}

function noteOf(code: string, message: string, item: Item, position: number): Doubt {
  return { code, message, evidence: { document: position, ...(item.evidence as Place) } };
}

function isSamePlace(left: Place, right: Item["evidence"]): boolean {
  if ("page" in left && "page" in right) {
    return left.page === right.page && left.box.every((edge, index) => edge === right.box[index]);
  }
  if ("sheet" in left && "sheet" in right) return left.sheet === right.sheet && left.cell === right.cell;
  if ("line" in left && "line" in right) return left.line === right.line && left.column === right.column;
  return "pointer" in left && "pointer" in right && left.pointer === right.pointer;
}
