import type { Certificate, HeatRecord, Reading, Statement } from "../certificate/certificate.js";
import { HEAT_NOT_STATED, looksLikeHeat, normaliseHeatNumber } from "../certificate/heat-number.js";
import { collectClaims } from "./collect-claims.js";
import { type Context, doubt } from "./context.js";
import { collectDocumentFacts } from "./document-facts.js";
import { readProduct } from "./read-product.js";
import type { TableContent } from "./read-table.js";
import { readsAsTitle } from "./reads-as-title.js";
import type { FieldStatement, ResultRow } from "./result-row.js";

/** A number or name that OCR alone read can't decide whose results these are (joining lifts this where a text document agrees). */
const OCR_IDENTIFIER = 0.8;
const HEAT_NOT_STATED_CONFIDENCE = 0.3;

interface HeatUnderway {
  heat: Statement;
  readonly readings: Reading[];
  readonly fields: FieldStatement[];
}

/** Brings rows, fields and headings of all tables together: each result to its heat, what is said once to every heat. */
export function assembleCertificate(context: Context, tables: readonly TableContent[]): Certificate {
  const placed = placeRows(context, tables);
  const pageFields = tables.flatMap(({ parts }) =>
    parts.flatMap((part): FieldStatement[] =>
      part.kind === "line"
        ? part.line.field
          ? [{ field: part.line.field.name, statement: withTitleUnit(part.line.field) }]
          : []
        : part.rows.filter((row) => row.heat === undefined).flatMap((row) => row.fields),
    ),
  );
  const sign = tables.find((table) => table.context.decimalSign !== "unknown")?.context.decimalSign ?? "unknown";
  const heats = [...placed.values()].map(
    ({ heat, readings, fields }): HeatRecord => ({
      heat,
      readings,
      claims: collectClaims(fields, pageFields),
      product: { ...readProduct(pageFields, sign), ...readProduct(fields, sign) },
    }),
  );
  if (heats.length === 0) {
    doubt(context, "no-heat-found", "No heat with results was found in this document.");
  }
  return {
    ...collectDocumentFacts(context, pageFields, tables),
    heats,
    doubts: context.doubts,
    ...(context.notes.length > 0 && { notes: context.notes }),
  };
}

function withTitleUnit({ title, statement }: { title: { unit?: string }; statement: Statement }): Statement {
  const isBare = /^[\d.,\s]+$/.test(statement.value);
  return isBare && title.unit ? { ...statement, value: `${statement.value} ${title.unit}` } : statement;
}

/** Walks the document in reading order; a table without heats belongs to the heat named last before it. */
function placeRows(context: Context, tables: readonly TableContent[]): Map<string, HeatUnderway> {
  const heats = new Map<string, HeatUnderway>();
  const byItem = itemsOf(tables);
  const known = namedHeats(context, tables);
  const homeless: HomelessRow[] = [];
  let named: Statement[] = [];
  let isUsed = false;
  let unreadable: Statement | undefined;

  for (const { parts } of tables) {
    for (const part of parts) {
      if (part.kind === "line") {
        if (part.line.field?.name !== "heat") continue;
        const { statement } = part.line.field;
        const found = splitHeats(context, statement);
        unreadable = found.length > 0 ? undefined : statement;
        named = isUsed ? found : [...named, ...found];
        isUsed = false;
        for (const heat of found) underway(heats, heat);
        continue;
      }
      for (const row of part.rows) {
        const fromItem = row.item && byItem.get(normaliseHeatNumber(row.item.value));
        const heat = row.isHeatLost
          ? undefined
          : (row.heat ??
            (fromItem === "several" ? undefined : fromItem) ??
            heatOfPiece(row.piece, known) ??
            (unreadable ? undefined : onlyOne(named)));
        if (!heat && row.readings.length > 0)
          homeless.push({
            row,
            isLost: row.isHeatLost === true || unreadable !== undefined,
            ...(unreadable && { unreadable }),
          });
        if (heat) settle(heats, heat, row);
      }
      if (part.rows.some((row) => row.readings.length > 0)) isUsed = true;
    }
  }
  placeHomeless(context, heats, homeless);
  return heats;
}

/** Every heat that the document names, in a line or in a row. */
function namedHeats(context: Context, tables: readonly TableContent[]): Statement[] {
  return tables.flatMap(({ parts }) =>
    parts.flatMap((part) => {
      if (part.kind === "results") return part.rows.flatMap(({ heat }) => heat ?? []);
      return part.line.field?.name === "heat" ? splitHeats(context, part.line.field.statement) : [];
    }),
  );
}

/** "H4471-1" is a piece of H4471, where the document names that heat and no other with which the piece's name begins. */
function heatOfPiece(piece: string | undefined, heats: readonly Statement[]): Statement | undefined {
  if (piece === undefined) return undefined;
  const begins = (heat: Statement) => {
    const rest = piece.toUpperCase().startsWith(heat.value.toUpperCase()) ? piece.slice(heat.value.length) : "";
    return /^\s?[-/_. ]\s?\w{1,4}$/.test(rest);
  };
  return onlyOne(heats.filter(begins));
}

function onlyOne(named: readonly Statement[]): Statement | undefined {
  const distinct = new Set(named.map((heat) => normaliseHeatNumber(heat.value)));
  return distinct.size === 1 ? named[0] : undefined;
}

/** "H4471, H4472" on one line names two heats; titles name none. */
function splitHeats({ titles }: Context, statement: Statement): Statement[] {
  if (readsAsTitle(statement.value, titles)) return [];
  const names = statement.value.split(/\s*[,;]\s*|\s+\/\s+/).filter(looksLikeHeat);
  return names.map((value) => ({ ...statement, value, printed: value }));
}

function underway(heats: Map<string, HeatUnderway>, heat: Statement): HeatUnderway {
  const name = normaliseHeatNumber(heat.value);
  const known = heats.get(name);
  if (known) {
    // Named for sure once, a heat is named for sure.
    if (known.heat.confidence < 1 && heat.confidence >= 1) known.heat = heat;
    return known;
  }
  const confidence = heat.confidence < 1 ? Math.min(heat.confidence, OCR_IDENTIFIER) : heat.confidence;
  const begun = { heat: { ...heat, confidence }, readings: [], fields: [] };
  heats.set(name, begun);
  return begun;
}

function settle(heats: Map<string, HeatUnderway>, heat: Statement, row: ResultRow): void {
  const place = underway(heats, heat);
  place.readings.push(...row.readings);
  if (row.heat) place.fields.push(...row.fields);
}

/** Plate or item numbers that one table gives with their heat, and another uses instead of it. */
function itemsOf(tables: readonly TableContent[]): Map<string, Statement | "several"> {
  const byItem = new Map<string, Statement | "several">();
  for (const { parts } of tables) {
    for (const part of parts) {
      if (part.kind !== "results") continue;
      for (const { item, heat } of part.rows) {
        if (!item || !heat) continue;
        const name = normaliseHeatNumber(item.value);
        const known = byItem.get(name);
        const isOther =
          known && known !== "several" && normaliseHeatNumber(known.value) !== normaliseHeatNumber(heat.value);
        byItem.set(name, isOther || known === "several" ? "several" : heat);
      }
    }
  }
  return byItem;
}

interface HomelessRow {
  readonly row: ResultRow;
  /** A name stood there, or should have, and it may be that of another heat. */
  readonly isLost: boolean;
  /** What stands where the name of the row's heat should. */
  readonly unreadable?: Statement;
}

/** Results that no heat was named for: the document's only heat, if it has but one; else they are kept under no name. */
function placeHomeless(context: Context, heats: Map<string, HeatUnderway>, rows: readonly HomelessRow[]): void {
  const only = heats.size === 1 ? [...heats.values()][0] : undefined;
  const lost = only ? rows.filter(({ isLost }) => isLost) : rows;
  if (only) {
    for (const { row } of rows.filter(({ isLost }) => !isLost)) only.readings.push(...row.readings);
  }
  for (const { row } of lost) {
    const place = row.readings[0]!.evidence;
    const heat = underway(heats, {
      value: HEAT_NOT_STATED,
      printed: HEAT_NOT_STATED,
      confidence: HEAT_NOT_STATED_CONFIDENCE,
      evidence: place,
    });
    heat.readings.push(
      ...row.readings.map((reading) => ({
        ...reading,
        confidence: Math.min(reading.confidence, HEAT_NOT_STATED_CONFIDENCE),
      })),
    );
  }
  if (lost.length > 0) {
    doubt(
      context,
      "heat-not-stated",
      `${lost.length} row(s) of results could not be given to a heat; name the heat beside them.`,
      lost[0]!.row.first.place,
    );
  }
  for (const statement of new Set(lost.flatMap(({ unreadable }) => unreadable ?? []))) {
    context.doubts.push({
      code: "heat-unreadable",
      message: `${JSON.stringify(statement.printed)} stands where a heat number should and can't be one; the results under it were given to no heat.`,
      evidence: statement.evidence,
    });
  }
}
