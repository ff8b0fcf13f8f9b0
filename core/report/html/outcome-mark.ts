import type { Outcome } from "../../verdict/finding.js";
import { outcomeWord } from "../outcome-word.js";
import { type Html, html, trustedMarkup } from "./template.js";

/** Four outlines that differ without colour: octagon, diamond, disc, ring. Drawn, because fonts do not share signs. */
const SHAPES: Readonly<Record<Outcome, string>> = {
  fail: '<path class="shape" d="M7 1h10l6 6v10l-6 6H7l-6-6V7z"/><path class="sign" d="M8 8l8 8M16 8l-8 8"/>',
  undetermined:
    '<path class="shape" d="M12 0l12 12-12 12L0 12z"/><path class="sign" d="M9 9.6a3 2.7 0 1 1 4.2 2.5c-.9.4-1.2.9-1.2 1.9"/><path class="sign" d="M12 17v.3"/>',
  pass: '<circle class="shape" cx="12" cy="12" r="11.5"/><path class="sign" d="M6.5 12.5l3.7 3.8 7.3-8"/>',
  "not-applicable": '<circle class="shape" cx="12" cy="12" r="10.5"/><path class="sign" d="M7.5 12h9"/>',
};

/** Symbol and word together: the outcome is never told by colour or by a sign alone. */
export function outcomeMark(outcome: Outcome): Html {
  return html`<span class="mark ${outcome}">${outcomeSymbol(outcome)}<span>${outcomeWord(outcome)}</span></span>`;
}

export function outcomeSymbol(outcome: Outcome): Html {
  const drawing = trustedMarkup(SHAPES[outcome]);
  return html`<svg class="symbol ${outcome}" viewBox="0 0 24 24" aria-hidden="true" focusable="false">${drawing}</svg>`;
}
