import type { Certificate, Statement } from "../certificate/certificate.js";
import { type Context, doubt } from "./context.js";
import { findDocumentType } from "./document-type.js";
import { readDate } from "./read-date.js";
import type { TableContent } from "./read-table.js";
import type { FieldStatement } from "./result-row.js";
import type { Field } from "./title.js";

type DocumentFacts = Pick<Certificate, "type" | "number" | "issuer" | "date" | "testDate" | "order">;

/** The header facts of the document: its type by EN 10204, number, issuer, dates, order. */
export function collectDocumentFacts(
  context: Context,
  fields: readonly FieldStatement[],
  tables: readonly TableContent[],
): DocumentFacts {
  const first = (field: Field) => fields.find((candidate) => candidate.field === field)?.statement;
  const type = findType(context, fields, tables);
  const number = first("certificate-number");
  const issuer = first("issuer");
  const order = first("order");
  const date = dateOf(context, first("date"));
  const testDate = dateOf(context, first("test-date"));
  return {
    ...(type && { type }),
    ...(number && { number }),
    ...(issuer && { issuer }),
    ...(date && { date }),
    ...(testDate && { testDate }),
    ...(order && { order }),
  };
}

function findType(
  context: Context,
  fields: readonly FieldStatement[],
  tables: readonly TableContent[],
): Statement | undefined {
  const stated = fields
    .filter(({ field }) => field === "certificate-type" || field === "certificate-number")
    .flatMap(({ field, statement }) =>
      typeIn(field === "certificate-type" ? `type ${statement.value}` : statement.value, statement),
    );
  const inHeadings = tables.flatMap(({ parts }) =>
    parts.flatMap((part) => {
      if (part.kind !== "line" || !part.line.heading) return [];
      const { cell } = part.line.heading;
      const evidence = { document: context.documentIndex, ...cell.place };
      return typeIn(cell.text, { value: cell.text, printed: cell.text, confidence: cell.confidence, evidence });
    }),
  );
  const types = stated.length > 0 ? stated : inHeadings;
  const distinct = [...new Set(types.map(({ value }) => value))];
  if (distinct.length > 1) {
    doubt(
      context,
      "document-type-ambiguous",
      `The document calls itself ${distinct.join(" and ")}; its type was not decided.`,
      types[0]!.evidence,
    );
    return undefined;
  }
  return types[0];
}

function typeIn(text: string, statement: Statement): Statement[] {
  const found = findDocumentType(text);
  return found ? [{ ...statement, value: found.type, printed: statement.printed }] : [];
}

function dateOf(context: Context, statement: Statement | undefined): Statement | undefined {
  if (!statement) return undefined;
  const date = readDate(statement.value);
  if (date === "ambiguous") {
    doubt(
      context,
      "date-ambiguous",
      `${JSON.stringify(statement.printed)} may be day-month or month-day; it was not read as a date.`,
      statement.evidence,
    );
    return undefined;
  }
  return date === undefined ? undefined : { ...statement, value: date };
}
