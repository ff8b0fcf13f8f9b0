/**
 * JSON text without what is no character to those who keep or read it: halves of surrogate pairs, which JSON and PDF can state and cutting can
 * leave (RFC 8785 and strict parsers refuse them), and U+0000, which PostgreSQL keeps in no text. Each becomes U+FFFD, as decoders do it.
 * @param json what `JSON.stringify` wrote: it escapes both and writes whole pairs as they are
 */
export function withoutBrokenCharacters(json: string): string {
  if (!json.includes("\\ud") && !json.includes("\\u0000")) return json;
  // Escapes are taken one by one, so that a backslash that is itself escaped begins none.
  return json.replace(/\\(?:ud[89a-f][0-9a-f]{2}|u0000|.)/g, (found) => (found.length > 2 ? "\ufffd" : found));
}
