import { html } from "../../core/report/html/template.js";
import type { ProblemBody } from "../problems.js";
import { layout } from "./layout.js";

/** A refusal for people; programs get the same as application/problem+json. */
export function problemPage(problem: ProblemBody): string {
  const body = html`<div class="alert" role="alert">
${problem.detail !== problem.title && html`<p>${problem.detail}</p>`}
${problem.errors?.map(({ pointer, detail }) => html`<p><code>${pointer}</code>: ${detail}</p>`) ?? false}
<p>${problem.advice}</p>
</div>
<p><a href="/">Back to the beginning</a></p>`;
  return layout(problem.title, body, { isSignedIn: false });
}
