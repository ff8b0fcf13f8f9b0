export const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/** One spelling for what papers print in many: dashes, multiplication signs, superscripts, degree signs, wide spaces. */
export function tidy(text: string): string {
  return (
    joinBrokenWords(text)
      .replace(/10([⁻⁺]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)/g, (_, sign: string, digits: string) => {
        const power = [...digits].map((digit) => SUPERSCRIPTS.indexOf(digit)).join("");
        return `10^${sign === "⁻" ? "-" : ""}${power}`;
      })
      .replace(/[º˚]/g, "°")
      // "N.º", "N. °": the sign for number, and no nitrogen.
      .replace(/(?<!\p{L})([Nn])\.? ?°(?!\s?[CFK](?!\p{L}))/gu, "$1°")
      .normalize("NFKC")
      .replace(/[‐‑‒–—−]/g, "-")
      .replace(/[×✕]/g, "x")
      .replace(/[·∙⋅]/g, ".")
      .replace(/["”“″]|''/g, " in ")
      .replace(/[’‘´`]/g, "'")
      .replace(/\s+/g, " ")
      .trim()
  );
}

/** "Zugfestig-" over "keit" in a narrow cell; where a capital follows, the hyphen is part of the word. */
function joinBrokenWords(text: string): string {
  return text
    .replace(/(\p{L})\s?[-\u2010\u00ad]\s*\n\s*(?=\p{Ll})/gu, "$1")
    .replace(/\u00ad\s?(?=\p{Ll})|\u00ad/gu, "");
}

export function withoutAccents(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").replaceAll("ß", "ss");
}

export interface Word {
  /** Case kept: element symbols need it. */
  readonly raw: string;
  readonly plain: string;
  /** Ended by a dot: "Zugfest." may be any word that begins so. */
  readonly isCut?: true;
}

/** Words of a tidied title: split at spaces and punctuation, decimal points kept, dots of abbreviations dropped. */
export function wordsOf(tidied: string): Word[] {
  return withoutAccents(tidied)
    .replace(/(\d),(\d)/g, "$1.$2")
    .replace(/#/g, " # ")
    .split(/[\s()[\]{}:;,/|=*+%'_-]+/)
    .map((print) => ({ isCut: print.endsWith("."), raw: print.replace(/^\.(?!\d)|\.+$/g, "") }))
    .map(({ isCut, raw }) => ({ isCut, raw: /^(?:[a-z]\.)+[a-z]$/i.test(raw) ? raw.replaceAll(".", "") : raw }))
    .filter(({ raw }) => raw !== "")
    .map(({ isCut, raw }) => ({ raw, plain: raw.toLowerCase(), ...(isCut && { isCut: true as const }) }));
}
