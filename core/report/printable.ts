/**
 * Control characters and half pairs are allowed neither in HTML nor in XML and can steer a terminal; marks that turn the
 * direction of writing can make a value read as another one. A person sees that something stood there.
 */
export function showUnprintable(text: string): string {
  return text.replace(/(?![\t\n\r])[\p{Cc}\p{Cs}\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\ufffe\uffff]/gu, "\ufffd");
}

/** As `showUnprintable`, for places that hold one line. */
export function onOneLine(text: string): string {
  return showUnprintable(text).replace(/\s+/g, " ").trim();
}
