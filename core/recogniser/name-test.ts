import type { Reading } from "../certificate/certificate.js";
import { formatMeasure } from "../quantity/measure.js";
import { kindOf } from "../quantity/quantity.js";
import type { Column } from "./columns.js";
import type { TableContext } from "./context.js";
import type { Block } from "./find-blocks.js";
import type { RowAttributes } from "./row-attributes.js";

interface RowReadings {
  readonly readings: readonly Reading[];
  readonly attributes: RowAttributes;
  readonly block: Block;
  readonly columns: readonly Column[];
  readonly row: number;
  /** How often each name stands in the test column. */
  readonly labels: ReadonlyMap<string, number>;
}

/**
 * Says which readings belong to one test. A row with several singles, or a tensile row, is one test; where every row holds one
 * impact piece, the pieces of one place, temperature, direction and size are one set.
 */
export function nameTest(context: TableContext, input: RowReadings): Reading[] {
  const label = input.attributes.test;
  const place = `${context.documentIndex}/${context.tableName}`;
  return input.readings.map((reading) => {
    const kind = kindOf(reading.quantity);
    if (kind === "chemistry" || kind === "index") return reading;
    const isPiece = kind === "impact" && !hasSinglesInRow(input.columns) && !isOneCellSet(input.readings);
    const name = isPiece ? setName(input, reading, label) : rowsTestName(input, label);
    return { ...reading, test: `${place}: ${name}` };
  });
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

/** Several rows under one name ("plate 1": weld, HAZ FL+1, HAZ FL+5) are several tests all the same. */
function rowsTestName({ block, row, labels }: RowReadings, label: string | undefined): string {
  const place = block.turned ? `column ${row + 1}` : `row ${row + 1}`;
  if (label === undefined) return place;
  return (labels.get(label) ?? 0) > 1 ? `${label}, ${place}` : label;
}

function setName(input: RowReadings, reading: Reading, label: string | undefined): string {
  const { attributes, block } = input;
  // A name that stands on several rows names the set; one that changes from row to row names the piece.
  const { location, retest } = attributes.title;
  if (label !== undefined && (input.labels.get(label) ?? 0) > 1) {
    return [label, location ?? reading.zone].filter(Boolean).join(", ");
  }
  return (
    [
      location ?? reading.zone,
      reading.temperature && formatMeasure(reading.temperature),
      reading.orientation,
      reading.specimenWidth && formatMeasure(reading.specimenWidth),
      retest && "retest",
    ]
      .filter(Boolean)
      .join(", ") || `table from row ${block.top + 1}`
  );
}
