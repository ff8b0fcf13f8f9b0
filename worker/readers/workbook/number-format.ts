/**
 * What a workbook's number format does to a number, by our own reading of its code. Libraries guess "date" from letters alone
 * and turn 27.4 under `0.00\ \m\m` into a day in January 1900; here letters that are quoted or escaped are only shown.
 */
export type NumberFormat =
  | { readonly kind: "general" }
  /** Shown as typed in. */
  | { readonly kind: "text" }
  | { readonly kind: "date" }
  /** A time of day or a duration, without a date. */
  | { readonly kind: "time" }
  | {
      readonly kind: "number";
      readonly positive: NumberSection;
      readonly negative?: NumberSection;
      readonly zero?: NumberSection;
    }
  /** Fractions, conditions, scaling by thousands: the number is given as stored. */
  | { readonly kind: "other" };

export interface NumberSection {
  readonly prefix: string;
  readonly suffix: string;
  readonly percent: boolean;
  readonly leastWholeDigits: number;
  /** Places always shown (0) and places shown where needed (#). */
  readonly leastPlaces: number;
  readonly mostPlaces: number;
  /** The section shows nothing of the number: `;;;` hides it, `"n.a."` replaces it. */
  readonly hidesNumber: boolean;
}

const BUILT_IN = {
  0: "General",
  1: "0",
  2: "0.00",
  3: "#,##0",
  4: "#,##0.00",
  9: "0%",
  10: "0.00%",
  11: "0.00E+00",
  12: "# ?/?",
  13: "# ??/??",
  14: "mm-dd-yy",
  15: "d-mmm-yy",
  16: "d-mmm",
  17: "mmm-yy",
  18: "h:mm AM/PM",
  19: "h:mm:ss AM/PM",
  20: "h:mm",
  21: "h:mm:ss",
  22: "m/d/yy h:mm",
  37: "#,##0 ;(#,##0)",
  38: "#,##0 ;[Red](#,##0)",
  39: "#,##0.00;(#,##0.00)",
  40: "#,##0.00;[Red](#,##0.00)",
  45: "mm:ss",
  46: "[h]:mm:ss",
  47: "mmss.0",
  48: "##0.0E+0",
  49: "@",
} as const;

/** ECMA-376 part 1, 18.8.30. Numbers 27 to 36 and 50 to 58 are dates of East Asian calendars. */
export const BUILT_IN_FORMATS: ReadonlyMap<number, string> = new Map([
  ...Object.entries(BUILT_IN).map(([id, code]): [number, string] => [Number(id), code]),
  ...[27, 28, 29, 30, 31, 36, 50, 51, 52, 53, 54, 57, 58].map((id): [number, string] => [id, "yyyy-mm-dd"]),
  ...[32, 33, 34, 35, 55, 56].map((id): [number, string] => [id, "h:mm:ss"]),
]);

export function parseNumberFormat(code: string): NumberFormat {
  const sections = splitSections(code);
  const [first = []] = sections;
  const letters = patternOf(first);
  if (/^general$/i.test(letters) && sections.length === 1 && first.every((token) => token.kind !== "shown")) {
    return { kind: "general" };
  }
  if (letters === "@") return { kind: "text" };
  const moment = momentOf(first, letters);
  if (moment) return { kind: moment };
  const parsed = sections.slice(0, 3).map(parseSection);
  const [positive, negative, zero] = parsed;
  if (!positive || parsed.some((section) => section === undefined)) return { kind: "other" };
  return { kind: "number", positive, ...(negative ? { negative } : {}), ...(zero ? { zero } : {}) };
}

/** Shown: quoted or escaped, a person sees it as it stands. Pattern: everything that has a meaning of its own. */
type Token = { readonly kind: "shown" | "pattern" | "bracket"; readonly text: string };

function splitSections(code: string): Token[][] {
  const sections: Token[][] = [[]];
  for (const match of code.slice(0, 512).matchAll(/"([^"]*)"?|\\(.)|_(.)|\*(.)|\[([^\]]*)\]|(;)|(general|[\s\S])/gi)) {
    const [, quoted, escaped, widthOf, , bracket, end, pattern] = match;
    const section = sections.at(-1)!;
    if (end !== undefined) sections.push([]);
    else if (bracket !== undefined) section.push({ kind: "bracket", text: bracket });
    else if (widthOf !== undefined) section.push({ kind: "shown", text: " " });
    else if (pattern !== undefined) section.push({ kind: "pattern", text: pattern });
    else section.push({ kind: "shown", text: quoted ?? escaped ?? "" });
  }
  return sections;
}

function patternOf(tokens: readonly Token[]): string {
  return tokens
    .filter((token) => token.kind === "pattern")
    .map((token) => token.text)
    .join("")
    .trim();
}

function momentOf(tokens: readonly Token[], letters: string): "date" | "time" | undefined {
  const elapsed = tokens.some((token) => token.kind === "bracket" && /^(h+|m+|s+)$/i.test(token.text));
  // Digits belong to a moment only as fractions of a second; "0.0 m" without quotes is metres.
  const withoutFractions = letters.replace(/s[.,]0+/gi, "s");
  if (!elapsed && (/[0#?]/.test(withoutFractions) || !/[ymdhs]/i.test(withoutFractions))) return undefined;
  if (/[yd]/i.test(letters)) return "date";
  if (elapsed || /[hs]/i.test(letters)) return "time";
  return "date"; // Months alone: mmm.
}

/** "General" inside a longer format. */
const GENERAL_DIGITS = "0.############";

/** Undefined for what is not simple. */
function parseSection(tokens: readonly Token[]): NumberSection | undefined {
  if (tokens.some((token) => token.kind === "bracket" && /^[<>=]/.test(token.text))) return undefined;
  let prefix = "";
  let suffix = "";
  let digits = "";
  for (const token of tokens) {
    const text = token.kind === "bracket" ? currencyOf(token.text) : token.text.replace(/^general$/i, GENERAL_DIGITS);
    const isDigit = token.kind === "pattern" && /^[0#?.,]+$/.test(text);
    if (isDigit && suffix.trim() !== "") return undefined; // Digits on both sides of a text: not simple.
    if (isDigit) digits += text;
    else if (digits === "") prefix += text;
    else suffix += text;
  }
  // Quoted or escaped, a percent sign and a stroke ("%", "J/cm2") are only shown.
  const signs = patternOf(tokens);
  const percent = signs.includes("%");
  const pattern = digits.replace(/,(?=[0#?])/g, "");
  if (signs.includes("/") || /E[+-]/i.test(signs)) return undefined;
  if (!/^[#?]*0*(\.[0]*[#?]*)?$/.test(pattern)) return undefined;
  const [whole = "", places = ""] = pattern.split(".");
  return {
    prefix,
    suffix,
    percent,
    leastWholeDigits: whole.replace(/[^0]/g, "").length,
    leastPlaces: places.replace(/[^0]/g, "").length,
    mostPlaces: places.length,
    hidesNumber: digits === "",
  };
}

/** [$€-407] shows a currency sign; [Red], [$-409] show nothing. */
function currencyOf(bracket: string): string {
  return bracket.startsWith("$") ? bracket.slice(1).split("-")[0]! : "";
}
