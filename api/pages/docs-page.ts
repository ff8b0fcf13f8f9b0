import { type Html, html } from "../../core/report/html/template.js";
import type { openapiDocument } from "../openapi/document.js";
import { PROBLEMS } from "../problems.js";
import { layout } from "./layout.js";
import { asSentence, type Schema, schemaFields, schemaLink, textOf } from "./schema-fields.js";

type OpenapiDocument = ReturnType<typeof openapiDocument>;

interface Operation {
  readonly summary?: string;
  readonly tags?: readonly string[];
  readonly security?: readonly { readonly key?: readonly string[] }[];
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: Content };
  readonly responses: Readonly<
    Record<
      string,
      {
        readonly description?: string;
        readonly headers?: Readonly<Record<string, { readonly description?: string }>>;
        readonly content?: Content;
      }
    >
  >;
}

type Content = Readonly<Record<string, { readonly schema?: Schema }>>;

interface Parameter {
  readonly name: string;
  readonly in: string;
  readonly required?: boolean;
  readonly description?: string;
  readonly example?: unknown;
  readonly schema?: { readonly description?: string; readonly example?: unknown };
}

/** The OpenAPI document for people, from the same source and without a network. Reading operations can be tried here. */
export function docsPage(document: OpenapiDocument): string {
  const operations = Object.entries(document.paths ?? {}).flatMap(([path, methods]) =>
    Object.entries(methods as Record<string, Operation>).map(([method, operation]) => ({ path, method, operation })),
  );
  const tags = [...new Set(operations.map(({ operation }) => operation.tags?.[0] ?? ""))];
  const parts = [...tags, ...FURTHER_PARTS];
  const [first, ...further] = document.info.description?.split("\n\n") ?? [];
  const body = html`<p>${first}</p>
<p>For programs: <a href="/v1/openapi.json">OpenAPI 3.1</a>. Send a key as <code>Authorization: Bearer hg_live_…</code>; refusals are problems by RFC 9457, listed at the end.</p>
${further.map(
  (paragraph) => html`<p>${paragraph}</p>
`,
)}<nav aria-label="Parts of the API"><ul class="links">${parts.map(
    (part) => html`<li><a href="#${partId(part)}">${part}</a></li>`,
  )}</ul></nav>
${tags.map(
  (tag) => html`${heading(tag)}
${operations.filter(({ operation }) => operation.tags?.[0] === tag).map(operationSection)}`,
)}
${heading("Webhooks")}
<p>What this service sends, to the callback of a submission or to an endpoint. The feed <code>GET /v1/events</code> has the same.</p>
${Object.entries((document.webhooks ?? {}) as Record<string, { readonly post: Operation }>).map(webhookSection)}
${heading("Schemas")}
${Object.entries(document.components?.schemas ?? {}).map(
  ([name, schema]) =>
    html`<details><summary>${name}</summary><pre id="schema-${name}" tabindex="0">${JSON.stringify(schema, null, 2)}</pre></details>`,
)}
${heading("Problems")}
<dl>${Object.entries(PROBLEMS).map(
    ([code, { status, title, advice }]) =>
      html`<dt id="problem-${code}"><code>${code}</code> (${status})</dt><dd>${title}. ${advice}</dd>`,
  )}</dl>`;
  return layout("API", body, { isSignedIn: false });
}

const FURTHER_PARTS = ["Webhooks", "Schemas", "Problems"] as const;

function heading(part: string): Html {
  return html`<h2 id="${partId(part)}">${part}</h2>`;
}

function partId(part: string): string {
  return `part-${part.toLowerCase().replace(/[^a-z]+/g, "-")}`;
}

function operationSection({ path, method, operation }: { path: string; method: string; operation: Operation }): Html {
  const scope = operation.security?.[0]?.key?.[0];
  const types = Object.keys(operation.requestBody?.content ?? {});
  return html`<section class="heat" aria-label="${method.toUpperCase()} ${path}">
<h3><code>${method.toUpperCase()} ${path}</code></h3>
<p>${operation.summary}.${scope ? html` Scope: <code>${scope}</code>.` : html` No key needed.`}</p>
${operation.parameters && html`<dl>${operation.parameters.map(parameterItem)}</dl>`}
${types.length > 0 && html`<p>Body: ${types.map((type, at) => html`${at > 0 && ", "}<code>${type}</code>`)}.</p>`}
${Object.entries(operation.requestBody?.content ?? {}).map(bodyFields)}
<details><summary>Answers to ${method.toUpperCase()} ${path}</summary><dl>${Object.entries(operation.responses).map(
    ([status, answer]) => html`<dt>${status}</dt><dd>${answerItem(answer)}</dd>`,
  )}</dl></details>
<pre tabindex="0">${curl(method, path, operation)}</pre>
${method === "get" && tryForm(path, operation.parameters ?? [])}
</section>
`;
}

/** A schema with a name is shown once, below. */
function bodyFields([type, { schema }]: readonly [string, { readonly schema?: Schema }]): Html | false {
  if (!schema?.properties) return false;
  return html`<details><summary>Fields of <code>${type}</code></summary>${schemaFields(schema)}</details>`;
}

function answerItem({ description, headers = {}, content = {} }: Operation["responses"][string]): Html {
  const link = schemaLink(Object.values(content)[0]?.schema);
  return html`${description?.split("\n\n").map((line, at) => html`${at > 0 && html`<br>`}${line}`)}${
    link && html` ${link}`
  }${Object.entries(headers).map(
    ([header, told]) => html`<br><code>${header}</code>${told.description && `: ${told.description}`}`,
  )}`;
}

function webhookSection([type, { post }]: readonly [string, { readonly post: Operation }]): Html {
  return html`<section class="heat" aria-label="Webhook ${type}">
<h3><code>${type}</code></h3>
<p>${post.summary}. Body: ${schemaLink(post.requestBody?.content["application/json"]?.schema)}.</p>
<dl>${post.parameters?.map(parameterItem)}</dl>
<details><summary>What your answer to ${type} does</summary><dl>${Object.entries(post.responses).map(
    ([status, { description }]) => html`<dt>${status}</dt><dd>${description}</dd>`,
  )}</dl></details>
</section>
`;
}

function parameterItem({ name, in: place, required, description, example, schema }: Parameter): Html {
  const told = example ?? schema?.example;
  return html`<dt><code>${name}</code> (${place}${required && ", required"})</dt>
<dd>${asSentence(description ?? schema?.description)}${told !== undefined && html` Example: <code>${textOf(told)}</code>`}</dd>`;
}

function curl(method: string, path: string, { security, requestBody }: Operation): string {
  const key = security?.length === 0 ? "" : ' -H "Authorization: Bearer $HEATGATE_KEY"';
  const verb = method === "get" ? "" : ` -X ${method.toUpperCase()}`;
  const types = Object.keys(requestBody?.content ?? {});
  const body = types.includes("multipart/form-data")
    ? " -F document=@certificate.xlsx -F requirement=@requirement.json"
    : types.length > 0
      ? ' -H "Content-Type: application/json" -d @body.json'
      : "";
  return `curl${verb}${key}${body} "$HEATGATE_URL${path}"`;
}

function tryForm(path: string, parameters: readonly Parameter[]): Html {
  const asked = parameters.filter(({ in: place }) => place === "path" || place === "query");
  const idOf = (name: string) => `${path}-${name}`.replace(/[^a-zA-Z0-9]+/g, "-");
  return html`<details><summary>Try GET ${path}</summary>
<form data-try="${path}">
${asked.map(
  ({ name, in: place, required }) =>
    html`<div class="field"><label for="${idOf(name)}">${name}</label><input id="${idOf(name)}" name="${name}" data-in="${place}"${required && " required"}></div>`,
)}
<button>Send</button> <span role="status"></span>
<pre tabindex="0" aria-label="Answer" hidden></pre>
</form></details>`;
}
