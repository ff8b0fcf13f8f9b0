import type { Certificate, HeatRecord } from "../certificate/certificate.js";
import type { Doubt } from "../certificate/evidence.js";
import type { PlacedDoubt, ReadDocument, Table } from "../recogniser/cells.js";
import { impactHeats } from "./impact/impact-readings.js";
import { readImpactRecord } from "./impact/read-impact-record.js";
import { reduceImpact } from "./impact/reduce-impact.js";
import type { Specimen, TensileRecord } from "./tensile/record.js";
import { reduceRecord } from "./tensile/reduce-record.js";
import type { TensileReduction } from "./tensile/reduction.js";
import { tensileHeat } from "./tensile/tensile-readings.js";
import { readTensileRecords } from "./tensile/tensile-record.js";

/**
 * Turns the raw test records of a document into readings: tensile curves and pendulum tables. Undefined where the document holds
 * none, so that it can be asked first; tables that are neither are left to the recogniser.
 */
export function reduceRecords(document: ReadDocument, documentIndex: number): Certificate | undefined {
  const heats: HeatRecord[] = [];
  const doubts: Doubt[] = [];
  let found = false;
  for (const table of document.tables) {
    if (table.hidden) continue;
    const reduced = reduceTable(table, documentIndex);
    if (!reduced) continue;
    found = true;
    heats.push(...reduced.heats);
    doubts.push(...reduced.doubts);
  }
  if (!found) return undefined;
  return { heats, doubts: [...document.doubts.map((doubt) => placed(doubt, documentIndex)), ...doubts] };
}

export interface ReducedTable {
  readonly heats: readonly HeatRecord[];
  readonly doubts: readonly Doubt[];
}

/** One table: undefined where it holds no raw record. */
export function reduceTable(table: Table, documentIndex: number): ReducedTable | undefined {
  const tensile = readTensileRecords(table).map((record) => tensileHeat(record, reduceRecord(record), documentIndex));
  if (tensile.length > 0) {
    return { heats: tensile.flatMap(({ heats }) => heats), doubts: tensile.flatMap(({ doubts }) => doubts) };
  }
  const impact = readImpactRecord(table);
  return impact && impactHeats(impact, reduceImpact(impact), table.name, documentIndex);
}

function placed({ place, ...doubt }: PlacedDoubt, document: number): Doubt {
  return { ...doubt, ...(place && { evidence: { ...place, document } }) };
}

/** One tensile record with its reduction, for whoever shows the work: the reduce command, pictures. */
export interface ReducedCurve {
  readonly name: string;
  readonly record: TensileRecord;
  readonly reduction: TensileReduction;
}

/** Every tensile curve of a table, reduced; `known` fills in what the record itself does not say about the piece. */
export function reduceCurves(table: Table, known: Specimen = {}): ReducedCurve[] {
  return readTensileRecords(table).map((record, index, all) => {
    const completed = { ...record, specimen: { ...known, ...record.specimen } };
    const name = all.length === 1 ? table.name : `${table.name}, curve ${index + 1}`;
    return { name, record: completed, reduction: reduceRecord(completed) };
  });
}
