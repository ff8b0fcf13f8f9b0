/**
 * JSON text without halves of surrogate pairs: each becomes U+FFFD, as decoders do it. JSON and PDF can state such halves, and cutting a text can
 * leave them; they are no characters, RFC 8785 refuses them and strict parsers refuse what has one.
 * @param json what `JSON.stringify` wrote: it escapes halves and writes whole pairs as they are
 */
export function withoutHalfPairs(json: string): string {
  if (!json.includes("\\ud")) return json;
  // Escapes are taken one by one, so that a backslash that is itself escaped begins none.
  return json.replace(/\\(?:ud[89a-f][0-9a-f]{2}|.)/g, (found) => (found.length > 2 ? "\ufffd" : found));
}
