import { showUnprintable } from "../printable.js";

const markup = Symbol("markup");

/** A piece of HTML in which every value has been escaped. Only `html` and `trustedMarkup` make one; JSON cannot. */
export interface Html {
  readonly [markup]: string;
}

export type HtmlValue = Html | string | number | false | null | undefined | readonly HtmlValue[];

/** Puts values into a piece of HTML. Text is escaped, pieces and lists of pieces are kept, false, null and undefined are nothing. */
export function html(parts: TemplateStringsArray, ...values: readonly HtmlValue[]): Html {
  let text = parts[0]!;
  values.forEach((value, index) => {
    text += toMarkup(value) + parts[index + 1]!;
  });
  return { [markup]: text };
}

/** For markup that this program wrote itself (styles, pictures), never for anything that came from outside. */
export function trustedMarkup(text: string): Html {
  return { [markup]: text };
}

export function htmlText(piece: Html): string {
  return piece[markup];
}

function toMarkup(value: HtmlValue): string {
  if (value === false || value === null || value === undefined) return "";
  if (typeof value === "string") return escapeHtml(value);
  if (typeof value === "number") return String(value);
  if (Array.isArray(value)) return value.map(toMarkup).join("");
  return (value as Html)[markup] ?? escapeHtml(String(value));
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

export function escapeHtml(text: string): string {
  return showUnprintable(text).replace(/[&<>"']/g, (character) => ENTITIES[character]!);
}
