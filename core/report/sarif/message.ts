import { onOneLine } from "../printable.js";

/**
 * A text of the report as a message of SARIF, in which braces mark places to be filled in and `[…](…)` a link (2.1.0, 3.11.5 and 3.11.6): what
 * a document says must be neither. A bracket is escaped only where it would begin a link, since not every viewer takes the escape away.
 */
export function sarifMessage(text: string) {
  const literal = onOneLine(text)
    .replace(/[{}]/g, "$&$&")
    .replace(/\[(?=[^\]]*\]\()/g, "\\[");
  return { text: literal };
}
