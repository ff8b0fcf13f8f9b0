import { Ajv2020 } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import type { RequestHandler, Response } from "express";
import type { openapiDocument } from "../../api/openapi/document.js";

type OpenapiDocument = ReturnType<typeof openapiDocument>;

/**
 * Holds every answer that passes through to the OpenAPI document: its status, its media type and, for JSON, its schema.
 * What does not fit is handed to `complain`. Addresses that the document does not know may only give problems.
 */
export function checkAnswers(document: OpenapiDocument, complain: (what: string) => void): RequestHandler {
  const ajv = validatorOf(document);
  const templates = Object.keys(document.paths ?? {}).map((template) => ({ template, matches: matcher(template) }));

  return (request, response, next) => {
    const body = recordBody(response);
    response.once("finish", () => {
      const path = request.originalUrl.split("?", 1)[0] ?? "";
      const what = `${request.method} ${path} ${response.statusCode}`;
      if (request.method === "OPTIONS" || request.method === "HEAD") return;
      const template = templates.find(({ matches }) => matches.test(path))?.template;
      const operation = template && operationOf(document, template, request.method);
      const type = String(response.getHeader("Content-Type") ?? "").split(";", 1)[0] ?? "";
      const fault = operation
        ? faultIn(ajv, document, {
            template,
            method: request.method.toLowerCase(),
            status: response.statusCode,
            type,
            body: body(),
          })
        : isPage(path)
          ? undefined
          : faultInUnknown(ajv, type, body());
      if (fault) complain(`${what}: ${fault}`);
    });
    next();
  };
}

/** Pages for people are no part of the API's description. */
function isPage(path: string): boolean {
  return /^\/($|page[.]|session|submissions|docs)/.test(path);
}

interface Given {
  readonly template: string;
  readonly method: string;
  readonly status: number;
  readonly type: string;
  readonly body: string;
}

function faultIn(ajv: Ajv2020, document: OpenapiDocument, given: Given) {
  const { template, method, status, type, body } = given;
  const pointer = ["paths", template, method, "responses", String(status)].map(escaped).join("/");
  const answer = lookUp(document, ["paths", template, method, "responses", String(status)]);
  if (!answer) return "is not a documented status";
  if (status === 304 || status === 204) return body === "" ? undefined : "has a body";
  const schema = answer.content?.[type]?.schema;
  if (!schema) return `is not documented as ${type}`;
  if (!type.endsWith("json")) return undefined;
  return violations(ajv, `openapi#/${pointer}/content/${escaped(type)}/schema`, body);
}

const validators = new WeakMap<OpenapiDocument, Ajv2020>();

/** Compiling takes longer than most tests, so each document has its validator once. */
function validatorOf(document: OpenapiDocument): Ajv2020 {
  const known = validators.get(document);
  if (known) return known;
  const ajv = new Ajv2020({ strict: false, allErrors: true });
  (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
  ajv.addSchema(document, "openapi");
  validators.set(document, ajv);
  return ajv;
}

function faultInUnknown(ajv: Ajv2020, type: string, body: string) {
  if (type !== "application/problem+json") return `is not documented, and no problem but ${type}`;
  return violations(ajv, "openapi#/components/schemas/Problem", body);
}

function violations(ajv: Ajv2020, reference: string, body: string): string | undefined {
  const validate = ajv.getSchema(reference);
  if (!validate) return `has no schema at ${reference}`;
  return validate(JSON.parse(body)) ? undefined : ajv.errorsText(validate.errors);
}

type Answer = { readonly content?: Readonly<Record<string, { readonly schema?: unknown } | undefined>> };

function lookUp(document: OpenapiDocument, steps: readonly string[]): Answer | undefined {
  let at: unknown = document;
  for (const step of steps) at = (at as Record<string, unknown> | undefined)?.[step];
  return at as Answer | undefined;
}

function operationOf(document: OpenapiDocument, template: string, method: string): unknown {
  return (document.paths?.[template] as Record<string, unknown> | undefined)?.[method.toLowerCase()];
}

function matcher(template: string): RegExp {
  const pattern = template.replace(/[.*+?^$()|[\]\\]/g, "\\$&").replace(/\{[^}]+\}/g, "[^/]+");
  return new RegExp(`^${pattern}$`);
}

function escaped(step: string): string {
  return step.replaceAll("~", "~0").replaceAll("/", "~1");
}

function recordBody(response: Response): () => string {
  const chunks: Buffer[] = [];
  const { write, end } = response;
  const take = (chunk: unknown) => {
    if (typeof chunk === "string" || chunk instanceof Uint8Array) chunks.push(Buffer.from(chunk as string));
  };
  response.write = ((...given: Parameters<typeof write>) => {
    take(given[0]);
    return write.apply(response, given);
  }) as typeof write;
  response.end = ((...given: Parameters<typeof end>) => {
    take(given[0]);
    return end.apply(response, given);
  }) as typeof end;
  return () => Buffer.concat(chunks).toString();
}
