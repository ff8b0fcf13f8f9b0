import {
  CONFIDENCE_THRESHOLD,
  type GradeClaim,
  type HeatRecord,
  type NumberedReading,
  type Product,
  type Reading,
  type Statement,
} from "./certificate.js";
import type { Doubt, Evidence } from "./evidence.js";
import { heatShape, namesPieceOf, normaliseHeatNumber } from "./heat-number.js";
import type { DocumentCertificate, JoinedHeat } from "./joined-heat.js";

export { normaliseHeatNumber } from "./heat-number.js";

export interface Joined {
  /** In the order in which the heats first stand in the documents. */
  readonly heats: readonly JoinedHeat[];
  readonly doubts: readonly Doubt[];
  /** Heats that may be this one under another name, by its name as printed: kept apart, and none passes on the other's account. */
  readonly relatives: ReadonlyMap<string, readonly JoinedHeat[]>;
}

interface Part {
  readonly document: number;
  readonly record: HeatRecord;
}

/**
 * Puts together what the documents of a submission say of one heat: chemistry from the mill, impact results from the laboratory.
 * Only equal names join; a name that differs in O and 0 or the like stays a heat of its own, with a doubt that shows both.
 */
export function joinHeats(certificates: readonly DocumentCertificate[]): Joined {
  const partsByName = new Map<string, Part[]>();
  for (const { document, certificate } of certificates) {
    for (const record of certificate.heats) {
      const name = normaliseHeatNumber(record.heat.value);
      partsByName.set(name, [...(partsByName.get(name) ?? []), { document, record }]);
    }
  }
  const heats = new Map([...partsByName].map(([name, parts]) => [name, joinParts(parts)]));
  const groups = [...lookAlikes(heats), ...pieces(heats)];
  const relatives = new Map<string, JoinedHeat[]>();
  for (const { heats: group } of groups) {
    for (const heat of group) {
      const others = group.filter((other) => other !== heat);
      relatives.set(heat.heat, [...(relatives.get(heat.heat) ?? []), ...others]);
    }
  }
  return { heats: [...heats.values()], doubts: groups.flatMap(doubtsOf), relatives };
}

function joinParts(parts: readonly Part[]): JoinedHeat {
  const records = parts.map(({ record }) => record);
  return {
    heat: records[0]!.heat.value,
    evidence: uniquePlaces(records.map(({ heat }) => heat.evidence)),
    readings: numbered(records.flatMap(({ readings }) => readings)),
    claims: uniqueClaims(records.flatMap(({ claims }) => claims)),
    products: records.map(({ product }) => product).filter(saysSomething),
    documents: [...new Set(parts.map(({ document }) => document))],
    confidence: nameConfidence(records),
  };
}

/** In their order, from 1. */
export function numbered(readings: readonly Reading[]): NumberedReading[] {
  return readings.map((reading, index) => ({ ...reading, id: index + 1 }));
}

function uniquePlaces(places: readonly Evidence[]): Evidence[] {
  return [...new Map(places.map((place) => [JSON.stringify(place), place])).values()];
}

function saysSomething({ form, thickness, condition }: Product): boolean {
  return form !== undefined || thickness !== undefined || condition !== undefined;
}

function uniqueClaims(claims: readonly Statement<GradeClaim>[]): Statement<GradeClaim>[] {
  const seen = new Map<string, Statement<GradeClaim>>();
  for (const claim of claims) {
    const { standard, edition, grade } = claim.value;
    const key = JSON.stringify([standard, edition, grade]);
    if (!seen.has(key)) seen.set(key, claim);
  }
  return [...seen.values()];
}

/** A name that OCR read is confirmed by the same name in a text document; else the least certain print counts. */
function nameConfidence(records: readonly HeatRecord[]): number {
  const confidences = records.map(({ heat }) => heat.confidence);
  const best = Math.max(...confidences);
  return best >= CONFIDENCE_THRESHOLD ? best : Math.min(...confidences);
}

/** Heats that may be one. */
interface Group {
  readonly code: "heat-near-match" | "heat-piece";
  readonly heats: readonly JoinedHeat[];
}

function lookAlikes(heats: ReadonlyMap<string, JoinedHeat>): Group[] {
  const byShape = new Map<string, JoinedHeat[]>();
  for (const [name, heat] of heats) {
    const shape = heatShape(name);
    byShape.set(shape, [...(byShape.get(shape) ?? []), heat]);
  }
  return [...byShape.values()]
    .filter((group) => group.length > 1)
    .map((group) => ({ code: "heat-near-match", heats: group }));
}

function pieces(heats: ReadonlyMap<string, JoinedHeat>): Group[] {
  return [...heats].flatMap(([name, piece]) => {
    const whole = heats.get(namesPieceOf(name) ?? "");
    return whole ? [{ code: "heat-piece" as const, heats: [whole, piece] }] : [];
  });
}

function doubtsOf({ code, heats }: Group): Doubt[] {
  const names = heats.map(({ heat }) => heat);
  const message =
    code === "heat-near-match"
      ? `${names.join(" and ")} differ only in characters that are easily misread; they were kept apart. Confirm whether they are one heat.`
      : `${names[1]} may be a piece of heat ${names[0]}; they were kept apart. Confirm whether their results belong together.`;
  return heats.map(({ heat, evidence }) => ({ code, message, evidence: evidence[0]!, heat }));
}
