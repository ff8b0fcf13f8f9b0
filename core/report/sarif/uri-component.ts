/** As `encodeURIComponent`, which throws on a lone half of a surrogate pair. */
export function uriComponent(text: string): string {
  return encodeURIComponent(text.replace(/\p{Cs}/gu, "\ufffd"));
}
