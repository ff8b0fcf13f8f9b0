import type { PlacedDoubt } from "../../../core/recogniser/cells.js";
import type { Meter } from "../meter.js";
import type { PackedDocument } from "../packed-document.js";
import { createTableWriter } from "../table-writer.js";
import { decodeText } from "./decode-text.js";
import { type Delimiter, type Dialect, rankDialects, splitRows } from "./dialect.js";
import { readPlainText } from "./read-plain-text.js";

const SAMPLE_CHARACTERS = 64 * 1024;
/** A second delimiter that explains the sample nearly as well as the first. */
const CLOSE_CALL = 0.92;
/** Below this a text is prose that happens to hold some commas. */
const LEAST_SCORE = 0.35;

const DELIMITER_NAMES: Record<Delimiter, string> = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "bar" };

/** Delimited text of any dialect, or plain text where no delimiter makes a table of it. Cells keep their text as it stands. */
export function readTextTable(bytes: Buffer, meter: Meter): PackedDocument {
  const { text: raw, encoding } = decodeText(bytes);
  const text = raw.replace(/\r\n?/g, "\n");
  const stated = /^sep=([;,\t|])\n/.exec(text)?.[1] as Delimiter | undefined;
  const sample = sampleOf(text);
  const ranked = rankDialects(sample).filter(({ delimiter }) => !stated || delimiter === stated);
  const [best] = ranked;
  if (!best || (!stated && best.score < LEAST_SCORE)) return readPlainText(text, encoding, meter);

  const writer = createTableWriter();
  let line = 1;
  splitRows(text, best.delimiter, meter.budgets.rows + 1).forEach((fields, row) => {
    meter.row();
    const firstLine = line;
    line++;
    fields.forEach((field, column) => {
      line += countLineBreaks(field);
      const shown = field.trim();
      if (shown === "" || (stated && row === 0)) return;
      meter.cell(shown);
      writer.add({ row, column, text: shown }, firstLine);
    });
  });
  return {
    reader: "csv",
    tables: [writer.finish({ name: "text" })],
    doubts: stated ? [] : doubtDelimiter(sample, ranked, best),
    notes: [`${DELIMITER_NAMES[best.delimiter]} between fields, ${describeSign(ranked, best)}, ${encoding}`],
  };
}

function sampleOf(text: string): string {
  if (text.length <= SAMPLE_CHARACTERS) return text;
  return text.slice(0, text.lastIndexOf("\n", SAMPLE_CHARACTERS) + 1 || SAMPLE_CHARACTERS);
}

function countLineBreaks(field: string): number {
  let count = 0;
  for (let at = field.indexOf("\n"); at >= 0; at = field.indexOf("\n", at + 1)) count++;
  return count;
}

/** For a person to see; which sign it is, the recogniser decides from the cells. */
function describeSign(ranked: readonly Dialect[], best: Dialect): string {
  const other = ranked.find(
    ({ delimiter, decimalSign }) => delimiter === best.delimiter && decimalSign !== best.decimalSign,
  );
  if (other && other.score === best.score) return "decimal sign not seen";
  return `decimal ${best.decimalSign === "." ? "point" : "comma"}`;
}

function doubtDelimiter(sample: string, ranked: readonly Dialect[], best: Dialect): PlacedDoubt[] {
  const rival = ranked.find(({ delimiter }) => delimiter !== best.delimiter);
  if (rival && rival.score >= best.score * CLOSE_CALL) {
    const [taken, other] = [best, rival].map(({ delimiter }) => DELIMITER_NAMES[delimiter]);
    return [ambiguous(`The fields may be parted by ${taken} or by ${other}; ${taken} was taken.`)];
  }
  if (best.delimiter === "," && sample.split("\n").every((line) => /^(-?\d+,\d+)?$/.test(line.trim()))) {
    return [ambiguous("The commas may part fields or be decimal commas; they were taken to part fields.")];
  }
  return [];
}

function ambiguous(message: string): PlacedDoubt {
  return {
    code: "ambiguous-dialect",
    message: `${message} Save it as an .xlsx workbook to be certain.`,
    place: { line: 1, column: 1 },
  };
}
