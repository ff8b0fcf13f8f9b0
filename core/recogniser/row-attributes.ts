import type { Orientation } from "../certificate/certificate.js";
import { parseDecimal } from "../quantity/decimal.js";
import { kindOf } from "../quantity/quantity.js";
import type { Block } from "./block.js";
import type { Cell } from "./cells.js";
import type { Column } from "./columns.js";
import { layTitle } from "./combine-titles.js";
import { doubt, type TableContext } from "./context.js";
import { cellAt, type GridCell } from "./grid.js";
import { tidy } from "./plain-text.js";
import { readTemperature } from "./read-temperature.js";
import { readSpecimenShare, readSpecimenWidthIn } from "./specimen-width.js";
import type { Field, Title } from "./title.js";
import { isNumeric, type TitleReader } from "./title-reader.js";

/** What a row's own words say about all of its values, with the cells that say it. */
export interface RowAttributes {
  readonly title: Title;
  readonly cells: readonly Cell[];
  /** The name in the row's test or specimen column. */
  readonly test?: string;
}

interface RowCells {
  readonly block: Block;
  readonly columns: readonly Column[];
  readonly row: number;
  readonly cells: readonly GridCell[];
  /** Attributes of the row above, where this row goes on with the same heat. */
  readonly above?: RowAttributes;
}

const ATTRIBUTE_FIELDS: ReadonlySet<Field> = new Set([
  "temperature",
  "zone",
  "orientation",
  "specimen",
  "width",
  "striker",
  "unit",
  "property",
  "analysis",
  "test",
  "other",
]);

const UNKNOWN_ANALYSIS = 0.5;

export function readRowAttributes(context: TableContext, input: RowCells): RowAttributes {
  let title: Title = { rest: "" };
  const cells: Cell[] = [];
  let test: string | undefined;
  const hasImpact = input.columns.some((column) => column.title.quantity && kindOf(column.title.quantity) === "impact");

  for (const { column, title: columnTitle } of input.columns) {
    const isOfChemistry = columnTitle.group === "chemistry" && !columnTitle.field && columnTitle.rest === "";
    const field = isOfChemistry ? "analysis" : fieldIn(columnTitle.field, hasImpact);
    if (columnTitle.quantity && columnTitle.rest === "") continue;
    if (field && !ATTRIBUTE_FIELDS.has(field) && field !== "heat" && field !== "item" && field !== "value") continue;
    const cell = cellIn(input, column, field);
    if (!cell || cell.hidden || cell.struck || /^[-./\s]*$/.test(tidy(cell.text))) continue;
    if (field === "test") {
      test = cell.text;
      // "MB" over "S1" in one cell: a heading that the lines of the table did not part from the row, and for which rows it is, is open.
      const lines = cell.text.split("\n");
      if (lines.length > 1 && lines.some((line) => context.titles.read(line).zone)) {
        title = layTitle(title, { rest: "", doubtful: true });
      }
    }
    const isAnalysisLabel = column === input.block.labelColumn && isOfElements(input.columns);
    const letter = isOfElements(input.columns) && field !== "heat" ? lettered(context, cell) : undefined;
    const part =
      letter ?? ((isAnalysisLabel && namedAnalysis(cell)) || readAttribute(context.titles, field, cell, columnTitle));
    if (part === "unknown") {
      doubt(
        context,
        `${field}-unknown`,
        `${JSON.stringify(cell.text)} is no known ${WORDS[field!] ?? field}; values of its row are not relied on.`,
        cell.place,
      );
      title = layTitle(title, { rest: "", doubtful: true });
      // Chemistry has neither place nor temperature, but which analysis it is matters to it.
      if (field === "analysis") cells.push({ ...cell, confidence: Math.min(cell.confidence, UNKNOWN_ANALYSIS) });
      continue;
    }
    if (!part) continue;
    title = layTitle(title, { rest: "", ...part });
    if (title.strikerOrPiece && isNumberedSeries(context, input, column)) title = asPiece(title);
    cells.push(cell);
  }
  const { above } = input;
  if (!above) return { title, cells, ...(test !== undefined && { test }) };
  const { statistic: _statistic, quantity: _quantity, unit: _unit, ...carried } = above.title;
  return {
    title: layTitle(carried, title),
    cells: [...above.cells, ...cells],
    ...((test ?? above.test) !== undefined && { test: test ?? above.test! }),
  };
}

/** "KV 1", "KV 2", "KV 3" down a column are three singles. */
function isNumberedSeries({ titles }: TableContext, { block }: RowCells, column: number): boolean {
  return block.dataRows.some((row) => {
    const cell = cellAt(block.grid, row, column)?.cell;
    const { quantity, piece, striker } = cell ? titles.read(cell.text) : { quantity: undefined };
    return quantity === "KV" && piece === "1" && !striker;
  });
}

function asPiece({ strikerOrPiece: _strikerOrPiece, striker, ...title }: Title): Title {
  return { ...title, piece: String(striker) };
}

const WORDS: Partial<{ [F in Field]: string }> = {
  zone: "zone (base, weld, HAZ)",
  orientation: "direction",
  property: "property",
  unit: "unit",
  specimen: "size of test pieces",
};

/** "Size" beside impact results is that of the test piece, not of the product. */
export function fieldIn(field: Field | undefined, hasImpact: boolean): Field | undefined {
  return hasImpact && field === "size" ? "specimen" : field;
}

/** Merged cells reach down over their rows; only attribute columns are looked up that way. */
function cellIn(input: RowCells, column: number, field: Field | undefined): Cell | undefined {
  if (field) return cellAt(input.block.grid, input.row, column)?.cell;
  return input.cells.find((cell) => cell.column === column)?.cell;
}

function readAttribute(
  titles: TitleReader,
  field: Field | undefined,
  cell: Cell,
  columnTitle: Title,
): Partial<Title> | "unknown" | undefined {
  const text = cell.text;
  switch (field) {
    case "temperature": {
      const temperature = readTemperature(tidy(text), columnTitle.unit);
      return temperature ? { temperature } : "unknown";
    }
    case "orientation": {
      const orientation = ORIENTATION_LETTERS[text.trim().toUpperCase()] ?? titles.read(text).orientation;
      return orientation ? { orientation } : "unknown";
    }
    case "zone": {
      const { zone, orientation } = titles.read(text);
      // The whole cell tells the place: "weld centre" and "weld root" are sets of their own.
      return zone ? { zone, location: text.trim().toLowerCase(), ...(orientation && { orientation }) } : "unknown";
    }
    case "specimen": {
      const width = readSpecimenWidthIn(tidy(text))?.width;
      if (width) return { specimenWidth: width };
      const share = readSpecimenShare(text);
      // "1/2" under "Size" may be the plate's, in inches.
      if (share === undefined || share === "unknown" || columnTitle.field === "size") return share && "unknown";
      return { specimenWidth: share };
    }
    case "width": {
      const value = parseDecimal(
        tidy(text)
          .replace(/\s?mm$/, "")
          .replace(",", "."),
      );
      return value && { specimenWidth: { value, unit: "mm" } };
    }
    case "striker":
      return /^r?\s?[28]\b/i.test(text) ? { striker: text.includes("8") ? 8 : 2 } : undefined;
    case "analysis": {
      const analysis = toAnalysis(text) ?? titles.read(text).analysis;
      return analysis ? { analysis } : "unknown";
    }
    case "unit": {
      const { unit, power, rest } = titles.read(text);
      return unit && rest === "" ? { unit, ...(power && { power }) } : "unknown";
    }
    case "property": {
      const title = titles.read(text);
      // "Tensile", with its unit in the next column.
      const isKnown = title.quantity !== undefined || title.group === "tensile";
      return isKnown && title.rest === "" ? title : "unknown";
    }
    // Of remarks only "Retest" is heard; "no retest" and sentences are none.
    case "other": {
      const { rest, retest } = titles.read(text);
      const isDenied = /^(?:no\b|none\b|kein|sans\b|senza\b|sin\b)/i.test(text.trim());
      return retest && rest === "" && !isDenied ? { retest: true } : undefined;
    }
    default:
      return readLabel(titles, cell);
  }
}

/** Row labels and specimen names that say something: "Average", "Ladle", "HAZ", "retest". */
function readLabel(titles: TitleReader, cell: Cell): Partial<Title> | undefined {
  if (isNumeric(cell)) return undefined;
  const { rest, analysis, zone, location, orientation, statistic, retest, temperature, specimenWidth } = titles.read(
    cell.text,
  );
  if (rest !== "") return undefined;
  return {
    ...(analysis && { analysis }),
    ...(zone && { zone, ...(location && { location }) }),
    ...(orientation && { orientation }),
    ...(statistic && { statistic }),
    ...(retest && { retest }),
    ...(temperature && { temperature }),
    ...(specimenWidth && { specimenWidth }),
  };
}

const ORIENTATION_LETTERS: Readonly<Record<string, Orientation>> = {
  L: "longitudinal",
  T: "transverse",
  Q: "transverse",
  Z: "through-thickness",
};
function isOfElements(columns: readonly Column[]): boolean {
  const quantities = columns.flatMap(({ title }) => title.quantity ?? []);
  return quantities.length > 0 && quantities.every((quantity) => kindOf(quantity) === "chemistry");
}

/** "P" where the paper says that P is the product analysis. */
function lettered({ analysisLetters }: TableContext, { text }: Cell): Partial<Title> | undefined {
  const analysis = analysisLetters.get(text.trim().toUpperCase());
  return analysis && { analysis };
}

/** "Product" beside a row of elements is the analysis, not a product form. Single letters may name test pieces. */
function namedAnalysis({ text }: Cell): Partial<Title> | undefined {
  const analysis = text.trim().length > 1 ? toAnalysis(text) : undefined;
  return analysis && { analysis };
}

/** Words that mean an analysis in its own column or beside elements, and other things elsewhere. */
const ANALYSIS_WORDS: Readonly<Record<string, "heat" | "product">> = {
  L: "heat",
  H: "heat",
  P: "product",
  HEAT: "heat",
  MELT: "heat",
  SCHMELZE: "heat",
  COULÉE: "heat",
  COLATA: "heat",
  COLADA: "heat",
  PRODUCT: "product",
  PIECE: "product",
  PRODUKT: "product",
  PRODUIT: "product",
  PRODOTTO: "product",
  PRODUCTO: "product",
};

function toAnalysis(text: string): "heat" | "product" | undefined {
  return ANALYSIS_WORDS[text.trim().toUpperCase()];
}
