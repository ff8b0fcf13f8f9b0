import { CONFIDENCE_THRESHOLD, type Reading } from "../certificate/certificate.js";
import { type Decimal, formatDecimal, parseDecimal, shift } from "../quantity/decimal.js";
import { isPhysical } from "../quantity/physical-range.js";
import { kindOf, type Quantity } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";
import type { Cell } from "./cells.js";
import { resolveQuantity } from "./combine-titles.js";
import { doubt, evidenceOf, isQualified, type TableContext } from "./context.js";
import { customaryUnit, dimensionsFor } from "./expected-units.js";
import { describeMark, isHarmless, MARKED } from "./footnotes.js";
import { tidy } from "./plain-text.js";
import { type PrintedNumber, readNumber } from "./read-number.js";
import type { Title } from "./title.js";

/** Confidences of what is deduced, not stated. Those below the threshold come with a doubt. */
const UNIT_CUSTOMARY = 0.95;
const NOTCH_ASSUMED = 0.9;
const UNIT_MISSING = 0.5;
const OUT_OF_RANGE = 0.3;
const UNPLACED = 0.5;
const POINT_LOST = 0.5;
const SEVERAL_ANALYSES = 0.5;

interface ValueToRead {
  readonly cell: Cell;
  /** All titles over and beside the cell, laid together. */
  readonly title: Title;
  /** Ceiling from the cells that the meaning rests on. */
  readonly confidence: number;
  readonly heat: string | undefined;
}

/** Reads one result cell; what can't be read becomes a doubt that names heat and quantity. */
export function readValueCell(context: TableContext, input: ValueToRead): Reading[] {
  const { cell, heat } = input;
  const printed = numberIn(withoutLimit(cell, context), context);
  if (printed.kind === "blank") return [];
  const title = titleWithTrailer(context, input.title, cell, printed);
  const quantity = title.quantity;
  if (!quantity) {
    doubt(
      context,
      "value-unplaced",
      `${JSON.stringify(cell.text)} stands under no known title; it was not read.`,
      cell.place,
      { heat },
    );
    return [];
  }
  const about = { heat, quantity };
  if (printed.kind !== "number" && printed.kind !== "several") {
    const { code, message } = REFUSALS[printed.kind];
    doubt(context, code, message(cell.text, quantity), cell.place, about);
    return [];
  }
  if (title.rest !== "") {
    doubt(
      context,
      "value-trailer",
      `${JSON.stringify(cell.text)} holds more than a number and a unit; it was not read as ${quantity}.`,
      cell.place,
      about,
    );
    return [];
  }
  const values = printed.kind === "several" ? printed.values : [printed.value];
  return values.flatMap((value) => readingOf(context, input, { ...title, quantity }, value, printed));
}

const REFUSALS = {
  limit: {
    code: "limit-in-results",
    message: (text: string, quantity: string) =>
      `${JSON.stringify(text)} among the results of ${quantity} is a limit; it was not read.`,
  },
  ambiguous: {
    code: "number-ambiguous",
    message: (text: string, quantity: string) =>
      `${JSON.stringify(text)} for ${quantity} has two meanings (decimal sign or thousands); write it with its decimal sign.`,
  },
  "mark-unclear": {
    code: "mark-unclear",
    message: (text: string, quantity: string) =>
      `${JSON.stringify(text)} for ${quantity}: the last figure may be the mark of a footnote; it was not read.`,
  },
  unreadable: {
    code: "not-a-number",
    message: (text: string, quantity: string) =>
      `${JSON.stringify(text)} for ${quantity} is not a number that could be read.`,
  },
} as const;

/** A workbook's number keeps its stored digits, and the zeros that its format shows. */
function numberIn(cell: Cell, context: TableContext): PrintedNumber {
  if (cell.number === undefined) return readNumber(withScaleBehind(cell.text), context.decimalSign);
  const stored = parseDecimal(cell.number);
  if (!stored) return { kind: "unreadable" };
  return { kind: "number", value: withShownPlaces(stored, cell.text), trailer: cell.formatUnit ?? "" };
}

/** "0.021 (max 0.030)", "0.021 [<= 0.030]": the limit in brackets behind a value is said of it and is no part of it. */
function withoutLimit(cell: Cell, { titles }: TableContext): Cell {
  if (cell.number !== undefined) return cell;
  const [, value, limit] = /^([^()[\]]*\d[^()[\]]*?)\s*[([]([^()[\]]+)[)\]]\s*$/.exec(cell.text) ?? [];
  if (value === undefined || limit === undefined) return cell;
  const [, words = "", bound] = /^([^\d<>≤≥=]*)([<>≤≥=]*)\s*[\d.,]+\s*%?$/.exec(tidy(limit)) ?? [];
  const isLimit = words.trim() === "" ? bound !== "" && bound !== undefined : titles.read(words).role === "limit";
  return isLimit ? { ...cell, text: value } : cell;
}

/** "HRB 84" is "84 HRB": papers print the scale on either side. */
function withScaleBehind(text: string): string {
  const [, scale, value] = /^\s*(H(?:BW?|V|R[ABC])\S{0,8})\s+([<>\d].*)$/.exec(text) ?? [];
  return scale ? `${value} ${scale}` : text;
}

function withShownPlaces(value: Decimal, shown: string): Decimal {
  const places = /\d[.,](\d+)(?!.*\d)/.exec(shown)?.[1]?.length ?? 0;
  return places > value.places ? { digits: value.digits * 10n ** BigInt(places - value.places), places } : value;
}

/** "187 HB" under "Hardness", "52 ksi" under "Yield": what follows the number counts as the nearest title. */
function titleWithTrailer(context: TableContext, title: Title, cell: Cell, printed: PrintedNumber): Title {
  const trailer = "trailer" in printed ? (cell.formatUnit ?? printed.trailer).replace(/^[)\]'°\s]+$/, "") : "";
  if (trailer === "") return title;
  const said = context.titles.read(trailer);
  // The cell's own unit counts before the title's, and its factor belongs to it.
  const { unit: _unit, power: _power, ...untouched } = title;
  const base = said.unit ? untouched : title;
  const quantity = said.quantity && title.quantity ? refine(title.quantity, said.quantity) : title.quantity;
  // "0.00S" is no sulphur: only a hardness scale may follow its value.
  const isUnderstood =
    said.rest === "" && (!said.quantity || (kindOf(said.quantity) === "hardness" && quantity === said.quantity));
  return resolveQuantity({
    ...base,
    ...(said.unit && { unit: said.unit }),
    ...(quantity && { quantity }),
    rest: isUnderstood && (said.unit || said.quantity) ? "" : trailer,
  });
}

function refine(titled: Quantity, said: Quantity): Quantity {
  return titled === "Hardness" && kindOf(said) === "hardness" ? said : titled;
}

function readingOf(
  context: TableContext,
  input: ValueToRead,
  title: Title & { readonly quantity: Quantity },
  value: Decimal,
  printed: PrintedNumber,
): Reading[] {
  const { cell, heat } = input;
  const { quantity } = title;
  const about = { heat, quantity };
  const notes: string[] = [];
  let confidence = Math.min(input.confidence, cell.confidence);
  const lower = (ceiling: number) => {
    confidence = Math.min(confidence, ceiling);
  };

  const unit = title.unit ?? customaryUnit(quantity) ?? likelyUnit(quantity);
  if (!title.unit && kindOf(quantity) !== "hardness" && kindOf(quantity) !== "index") {
    if (customaryUnit(quantity)) {
      lower(UNIT_CUSTOMARY);
      notes.push("unit not stated, taken as %");
    } else {
      lower(UNIT_MISSING);
      doubt(
        context,
        "unit-missing",
        `${quantity} ${cell.text} has no unit; ${unit} would only be a guess.`,
        cell.place,
        about,
      );
    }
  }
  if (!dimensionsFor(quantity).includes(dimensionOf(unit))) {
    doubt(
      context,
      "unit-mismatch",
      `${quantity} can't be measured in ${unit}; ${JSON.stringify(cell.text)} was not read.`,
      cell.place,
      about,
    );
    return [];
  }
  const scaled = title.power ? shift(value, title.power) : value;
  if (title.power) notes.push(`printed ${cell.text}, title states a factor of 10^${-title.power}`);
  if (!isPhysical(quantity, scaled, unit)) {
    lower(OUT_OF_RANGE);
    doubt(
      context,
      "value-improbable",
      `${quantity} ${formatDecimal(scaled)} ${unit} lies outside anything such metals do; check the unit, the decimal sign and the column.`,
      cell.place,
      about,
    );
  }
  if (hasLostItsPoint(title, cell, scaled, unit)) {
    lower(POINT_LOST);
    doubt(
      context,
      "decimal-sign-lost",
      `${JSON.stringify(cell.text)} for ${quantity} has no decimal sign, where one is to be expected.`,
      cell.place,
      about,
    );
  }
  if (printed.kind === "several" && kindOf(quantity) === "chemistry") {
    lower(SEVERAL_ANALYSES);
    doubt(
      context,
      "several-analyses",
      `${JSON.stringify(cell.text)} gives several contents of ${quantity}; which analysis each is of is not said.`,
      cell.place,
      about,
    );
  }
  const mark = "mark" in printed ? printed.mark : title.mark;
  if (mark !== undefined) {
    const said = context.footnotes.get(mark) ?? [];
    if (said.length > 0) notes.push(`marked ${mark}: ${said.join("; ")}`);
    // A title is marked for many reasons; a single value is marked because something is different about it.
    const isExplained = said.length > 0 ? said.every(isHarmless) : mark === title.mark;
    if (!isExplained) {
      lower(MARKED);
      doubt(
        context,
        "value-marked",
        `${quantity} ${cell.text} is ${describeMark(context.footnotes, mark)}; see that it is the value to judge.`,
        cell.place,
        about,
      );
    }
  }
  if (cell.comment !== undefined) notes.push(`comment: ${cell.comment}`);
  if (cell.covers !== undefined) notes.push(`painted over ${JSON.stringify(cell.covers)}`);
  if (isQualified(cell)) lower(MARKED);
  if (title.notchAssumed && quantity === "KV") {
    lower(NOTCH_ASSUMED);
    notes.push("kind of notch not stated, taken as V");
  }
  if (title.misheard && kindOf(quantity) === "impact") lower(UNPLACED);
  if (title.doubtful && kindOf(quantity) !== "chemistry") lower(UNPLACED);
  if (cell.confidence < 1) notes.push(`read by OCR, ${Math.round(cell.confidence * 100)} % sure`);
  if (title.location && title.location !== title.zone) notes.push(`location ${title.location}`);
  if (confidence < CONFIDENCE_THRESHOLD && notes.length === 0 && cell.confidence === 1)
    notes.push("rests on cells that are not relied on");

  return [
    {
      quantity,
      printed: cell.text,
      value: scaled,
      unit,
      ...(printed.kind === "number" && printed.bound && { bound: printed.bound }),
      confidence,
      evidence: evidenceOf(context, cell.place),
      ...(kindOf(quantity) === "chemistry" && title.analysis && { analysis: title.analysis }),
      ...(title.zone && { zone: title.zone }),
      ...(title.temperature && kindOf(quantity) !== "chemistry" && { temperature: title.temperature }),
      ...(title.orientation && kindOf(quantity) !== "chemistry" && { orientation: title.orientation }),
      ...(kindOf(quantity) === "impact" && title.specimenWidth && { specimenWidth: title.specimenWidth }),
      ...(kindOf(quantity) === "impact" && title.striker && { striker: title.striker }),
      ...(title.statistic && { statistic: title.statistic }),
      ...(title.retest && { retest: true }),
      ...(notes.length > 0 && { notes }),
    },
  ];
}

/** "040" is 0.40 with its point lost, where no factor explains it; and OCR loses points, while chemistry in % is printed with one. */
function hasLostItsPoint(
  title: Title & { readonly quantity: Quantity },
  cell: Cell,
  value: Decimal,
  unit: Unit,
): boolean {
  if (title.power || cell.number !== undefined || value.places > 0) return false;
  const isScannedChemistry = cell.confidence < 1 && kindOf(title.quantity) === "chemistry" && unit === "%";
  return isScannedChemistry || /^\D*0\d/.test(cell.text);
}

function likelyUnit(quantity: Quantity): Unit {
  const kind = kindOf(quantity);
  if (kind === "strength") return "MPa";
  if (quantity === "KCV") return "J/cm2";
  if (quantity === "LE") return "mm";
  if (quantity === "E") return "GPa";
  return "J";
}
