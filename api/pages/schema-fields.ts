import { type Html, html } from "../../core/report/html/template.js";

/** As much of JSON Schema as the OpenAPI document uses. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly format?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly anyOf?: readonly Schema[];
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: Schema | boolean;
  readonly description?: string;
  readonly default?: unknown;
  readonly example?: unknown;
}

/** What an object may or must say, field by field, and the same for objects in it. */
export function schemaFields({ properties = {}, required = [] }: Schema): Html {
  return html`<dl>${Object.entries(properties).map(([name, schema]) => field(name, schema, required.includes(name)))}</dl>`;
}

function field(name: string, schema: Schema, isRequired: boolean): Html {
  const inner = objectIn(schema);
  return html`<dt><code>${name}</code> (${kindOf(schema)}${isRequired && ", required"})</dt>
<dd>${asSentence(schema.description)}${schema.default !== undefined && html` Left out: <code>${JSON.stringify(schema.default)}</code>.`}${
    schema.example !== undefined && html` Example: <code>${textOf(schema.example)}</code>`
  }${inner && schemaFields(inner)}</dd>`;
}

/** Descriptions are written without their full stop; here something follows. */
export function asSentence(description: string | undefined): string | undefined {
  return description && `${description.replace(/\.$/, "")}.`;
}

/** Where a schema is shown that has a name of its own; undefined for one that has none. */
export function schemaLink({ $ref }: Schema = {}): Html | undefined {
  const name = $ref?.split("/").at(-1);
  return name === undefined ? undefined : html`<a href="#schema-${name}">${name}</a>`;
}

function kindOf(schema: Schema): Html {
  const link = schemaLink(schema);
  if (link) return link;
  if (schema.const !== undefined) return html`<code>${JSON.stringify(schema.const)}</code>`;
  if (schema.enum) return html`one of ${listed(schema.enum.map(textOf))}`;
  if (schema.anyOf) return html`${schema.anyOf.map((one, at) => html`${at > 0 && " or "}${kindOf(one)}`)}`;
  if (schema.items) return html`list of ${kindOf(schema.items)}`;
  if (schema.format === "binary") return html`file`;
  return html`${[schema.type ?? "anything"].flat().join(" or ")}`;
}

const SHOWN = 12;

function listed(texts: readonly string[]): string {
  return texts.length <= SHOWN ? texts.join(", ") : `${texts.slice(0, SHOWN).join(", ")}, … (${texts.length})`;
}

/** The object that a field, or each item of its list, is. */
function objectIn(schema: Schema): Schema | undefined {
  if (schema.properties) return schema;
  if (schema.items) return objectIn(schema.items);
  return schema.anyOf?.find((one) => objectIn(one) !== undefined);
}

export function textOf(value: unknown): string {
  return typeof value === "string" ? value : JSON.stringify(value);
}
