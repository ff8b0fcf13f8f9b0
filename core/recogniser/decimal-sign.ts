/** Which sign this paper uses between whole and fraction, as far as its own cells prove it. */
export type DecimalSign = "comma" | "point" | "mixed" | "unknown";

/**
 * Looks for prints with one meaning only: "0,021", "17,82" and "1.234,5" prove a comma; "0.021", "17.82", ".05" a point.
 * "1,234" proves nothing, and cells that prove both signs prove none.
 */
export function findDecimalSign(texts: Iterable<string>): DecimalSign {
  let comma = false;
  let point = false;
  for (const text of texts) {
    if (text.length > 40) continue;
    for (const [print] of text.matchAll(/(?<![\d.,])\d*(?:[.,]\d+)+(?![\d.,])/g)) {
      const sign = provenSign(print);
      if (sign === "comma") comma = true;
      if (sign === "point") point = true;
    }
  }
  if (comma && point) return "mixed";
  return comma ? "comma" : point ? "point" : "unknown";
}

/** What one print proves by itself. */
export function provenSign(print: string): "comma" | "point" | undefined {
  const separators = print.replace(/\d/g, "");
  if (separators.length === 0) return undefined;
  const last = separators.at(-1) === "," ? "comma" : "point";
  if (separators.length > 1) {
    // "1.234,5" ends in its decimal sign; "1,234,567" has thousands only.
    return new Set(separators).size === 2 ? last : undefined;
  }
  const [whole = "", fraction = ""] = print.split(/[.,]/);
  const couldBeThousands = fraction.length === 3 && /^[1-9]\d{0,2}$/.test(whole);
  return couldBeThousands ? undefined : last;
}
