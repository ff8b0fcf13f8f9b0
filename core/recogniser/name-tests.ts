import type { Reading } from "../certificate/certificate.js";
import { normaliseHeatNumber } from "../certificate/heat-number.js";
import { formatMeasure } from "../quantity/measure.js";
import { kindOf } from "../quantity/quantity.js";
import type { Block } from "./block.js";
import type { Column } from "./columns.js";
import type { TableContext } from "./context.js";
import type { ResultRow } from "./result-row.js";
import type { RowAttributes } from "./row-attributes.js";

/** A row of results with what its own words say of it. */
export interface AttributedRow {
  readonly row: number;
  readonly result: ResultRow;
  readonly attributes: RowAttributes;
}

/**
 * Says which readings belong to one test. A row with several singles, or a tensile row, is one test; where every row holds one
 * impact piece, the pieces of one place, temperature, direction and size are one set.
 */
export function nameTests(
  context: TableContext,
  block: Block,
  columns: readonly Column[],
  rows: readonly AttributedRow[],
): ResultRow[] {
  const singlesInRow = hasSinglesInRow(columns);
  const labels = count(rows.flatMap(({ attributes }) => attributes.test ?? []));
  const counts = count(
    rows.flatMap((attributed) => (attributed.attributes.test === undefined ? [] : nameKey(attributed))),
  );
  return rows.map((attributed) => {
    const { row, result, attributes } = attributed;
    const isSet = singlesInRow || isOneCellSet(result.readings);
    const ownName = rowName(block, row, attributes.test, labels);
    const readings = result.readings.map((reading): Reading => {
      const kind = kindOf(reading.quantity);
      if (kind === "chemistry" || kind === "index") return reading;
      const isPiece = kind === "impact" && !isSet;
      const name = !isPiece
        ? ownName
        : isNameOfSet(counts, attributed)
          ? `${attributes.test}, ${setName(block, attributes, reading)}`
          : setName(block, attributes, reading);
      // Where rows are named after quantities, the columns are the pieces.
      const of = attributes.title.quantity ? `table from row ${block.top + 1}` : name;
      const whole = reading.test === undefined ? name : `${of}, ${reading.test}`;
      return { ...reading, test: `${context.documentIndex}/${context.tableName}: ${whole}` };
    });
    return { ...result, readings };
  });
}

/** Several rows under one name ("plate 1": weld, HAZ FL+1, HAZ FL+5) are several tests all the same. */
function rowName(block: Block, row: number, label: string | undefined, labels: ReadonlyMap<string, number>): string {
  const place = block.turned ? `column ${row + 1} from row ${block.top + 1}` : `row ${row + 1}`;
  if (label === undefined) return place;
  return labels.get(label)! > 1 ? `${label}, ${place}` : label;
}

function hasSinglesInRow(columns: readonly Column[]): boolean {
  return columns.some(({ title }) => title.piece !== undefined || title.statistic === "average");
}

function isOneCellSet(readings: readonly Reading[]): boolean {
  const places = readings
    .filter((reading) => kindOf(reading.quantity) === "impact")
    .map((reading) => `${reading.quantity} ${JSON.stringify(reading.evidence)}`);
  return new Set(places).size < places.length;
}

/**
 * A name that stands on several rows of one heat, place and temperature names their set; one that changes from row to row names
 * the piece, also where the next heat or zone begins again with "1".
 */
function isNameOfSet(counts: ReadonlyMap<string, number>, attributed: AttributedRow): boolean {
  return attributed.attributes.test !== undefined && counts.get(nameKey(attributed))! > 1;
}

function count(names: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return counts;
}

function nameKey({ result, attributes }: AttributedRow): string {
  const heat = result.heat && normaliseHeatNumber(result.heat.value);
  return JSON.stringify([heat, attributes.test, conditionsOf(attributes)]);
}

function conditionsOf({ title }: RowAttributes): string {
  const { zone, location, temperature, orientation, specimenWidth, retest } = title;
  return [
    location ?? zone,
    temperature && formatMeasure(temperature),
    orientation,
    specimenWidth && formatMeasure(specimenWidth),
    retest && "retest",
  ]
    .filter(Boolean)
    .join(", ");
}

function setName(block: Block, attributes: RowAttributes, reading: Reading): string {
  const { zone, temperature, orientation, specimenWidth } = reading;
  const { location = zone, retest } = attributes.title;
  const said: RowAttributes["title"] = {
    rest: "",
    ...(location && { location }),
    ...(temperature && { temperature }),
    ...(orientation && { orientation }),
    ...(specimenWidth && { specimenWidth }),
    ...(retest && { retest }),
  };
  return conditionsOf({ title: said, cells: [] }) || `table from row ${block.top + 1}`;
}
