import type { Cell } from "../../recogniser/cells.js";

export interface NumberStyle {
  readonly decimalMark: "." | ",";
  readonly markUncertain: boolean;
}

/** Cells looked at before the decimal mark is decided; one file has one style. */
const MOST_CELLS = 5000;

/**
 * Tells decimal comma from thousands comma by the numbers themselves. "1,234" alone has two meanings; "0,123", "12,5" and
 * "1.234,5" have one. Where only the ambiguous form occurs, a comma is taken for the decimal mark and the record is doubted.
 */
export function numberStyle(cells: readonly Cell[]): NumberStyle {
  let commas = 0;
  let surelyDecimalCommas = 0;
  let surelyDecimalPoints = 0;
  for (let i = 0; i < Math.min(cells.length, MOST_CELLS); i++) {
    const { text, number } = cells[i]!;
    if (number !== undefined || !/^[+-−]?\d[\d.,]*(e[+-]?\d+)?$/i.test(text)) continue;
    const comma = text.lastIndexOf(",");
    const point = text.lastIndexOf(".");
    if (comma >= 0) commas++;
    if (comma > point && !isGrouped(text, ",")) surelyDecimalCommas++;
    if (point > comma && !isGrouped(text, ".")) surelyDecimalPoints++;
  }
  if (commas === 0 || surelyDecimalPoints > surelyDecimalCommas) return { decimalMark: ".", markUncertain: false };
  return { decimalMark: ",", markUncertain: surelyDecimalCommas === 0 };
}

/** Could the mark stand between thousands? "1,234", "12,345,678", but not "0,123". */
function isGrouped(text: string, mark: "," | "."): boolean {
  const escaped = mark === "." ? "\\." : ",";
  return new RegExp(`^[+-−]?[1-9]\\d{0,2}(${escaped}\\d{3})+$`).test(text);
}

const DIGIT_0 = 48;
const DIGIT_9 = 57;

/** The number that a cell's text is, by the file's style; NaN for anything else. Ordinary floating point: curves are measured. */
export function readNumber(text: string, decimalMark: "." | ","): number {
  const last = text.charCodeAt(text.length - 1);
  if (!(last >= DIGIT_0 && last <= DIGIT_9) && last !== 46) return Number.NaN; // cheap way out for words; "12." ends in a point
  let plain = text;
  if (decimalMark === ",") {
    if (plain.includes(".") && plain.includes(",")) plain = plain.replaceAll(".", "");
    plain = plain.replace(",", ".");
  } else if (plain.includes(",")) {
    if (!/^[+-−]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(plain)) return Number.NaN;
    plain = plain.replaceAll(",", "");
  }
  if (plain.charCodeAt(0) === 0x2212) plain = `-${plain.slice(1)}`;
  const second = plain.charCodeAt(1) | 32;
  if (second === 120 || second === 98 || second === 111) return Number.NaN; // 0x, 0b and 0o are no measurements
  return Number(plain);
}
