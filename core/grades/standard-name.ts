import { writtenEdition } from "./written-edition.js";

/** A standard as cited, taken apart: "ASTM A240/A240M-07e1" is standard a240, edition "07e1". */
export interface StandardName {
  /** Compared, never shown: "a240", "en10028-7", "aws-a5.9", "iso14343-a". */
  readonly key: string;
  /** As cited, "07e1", "2016"; what follows the number. */
  readonly edition?: string;
  /** Set for ASME's SA- and SFA-specifications, which adopt an ASTM or AWS text, often an older edition of it. */
  readonly adoptedBy?: "ASME";
}

/** Prefixes under which national bodies publish one and the same European or international text: DIN EN, DS/EN, ČSN EN. */
export const NATIONAL_BODIES =
  "DIN|BS|NF|UNI|ONORM|ÖNORM|SS|SFS|NS|DS|PN|CSN|ČSN|NEN|NBN|UNE|EVS|LST|LVS|STN|SIST|SN|TS";
const NATIONAL_PREFIX = new RegExp(`^(?:${NATIONAL_BODIES})[ /-]*(?=EN\\b|EN\\d|ISO\\b)`);

const LONGEST_NAME = 120;

/** undefined where the text does not look like a standard that the library could hold. */
export function parseStandardName(text: string): StandardName | undefined {
  if (text.length > LONGEST_NAME) return undefined;
  const tidy = tidyText(text);
  return parseTidy(tidy) ?? parseTidy(withPlainEdition(tidy));
}

function parseTidy(tidy: string): StandardName | undefined {
  return parseAws(tidy) ?? parseAstm(tidy) ?? parseApi(tidy) ?? parseEuropean(tidy);
}

/** "A240 ED. 2018" as "A240-2018", where nothing else follows. */
function withPlainEdition(tidy: string): string {
  const name = /^[^,(]*?\d[A-Z]?(?=[ ,(]+(?:\(|\d{4}|ED|AUSGABE|ISSUE))/.exec(tidy)?.[0];
  const written = name === undefined ? undefined : writtenEdition(tidy.slice(name.length));
  return written?.rest === "" ? `${name}-${written.edition}` : tidy;
}

/** Upper case, one kind of dash, single spaces: what people and programs type differently without meaning anything by it. */
export function tidyText(text: string): string {
  return text
    .normalize("NFKC")
    .replace(/[\u2010-\u2015\u2212\u00ad\ufe58\ufe63\uff0d]/g, "-")
    .replace(/\s+/g, " ")
    .trim()
    .toUpperCase();
}

/** "EN 10088" without a part may be any of its parts; "EN 10088-2" is only that one. */
export function mayBe(cited: string, held: string): boolean {
  return held === cited || (/^(?:en|iso)\d+$/.test(cited) && held.startsWith(`${cited}-`));
}

function parseAstm(tidy: string): StandardName | undefined {
  // The partner after the slash is the same number again: A240/A240M, SA-240/SA-240M, SA-240/A240, A 240/M, A 240/A 240 M.
  const match =
    /^(?:(?:ASTM|ASME|ANSI)[ /-]*)*(S?[AB])[ -]?(\d{1,4})M?((?: ?\/ ?(?:(?:ASTM|ASME)[ -]?)?(?:S?[AB][ -]?)?(?:\2 ?M?|M))*)(?:(?: ?[-:] ?| (?=\d{4}))((?:19|20)?\d{2}[A-E]?(?:E\d)?))?$/.exec(
      tidy,
    );
  if (!match) return undefined;
  const [, letters = "", number = "", partners = "", edition] = match;
  const onlyAsme = letters.startsWith("S") && !/(?:^|[^S])[AB][ -]?\d/.test(partners);
  return {
    key: `${letters.replace("S", "").toLowerCase()}${number}`,
    ...(edition !== undefined && { edition: edition.toLowerCase() }),
    ...(onlyAsme && { adoptedBy: "ASME" as const }),
  };
}

function parseAws(tidy: string): StandardName | undefined {
  const match =
    /^(?:(?:AWS|ASME|ANSI)[\s/-]*)*(SF)?A[\s-]?5[.](\d{1,2})(?:\s*\/\s*(?:SF)?A[\s-]?5[.]\d{1,2}M?)?M?(?:\s*[-:]\s*(\d{2,4}))?$/.exec(
      tidy,
    );
  if (!match) return undefined;
  const [, adopted, number = "", edition] = match;
  return {
    key: `aws-a5.${number}`,
    ...(edition !== undefined && { edition }),
    ...(adopted !== undefined && { adoptedBy: "ASME" as const }),
  };
}

function parseApi(tidy: string): StandardName | undefined {
  const match = /^(?:API(?: SPEC)?[ -]*5L|(?:EN )?ISO[ -]*3183)(?: ?[-:,] ?(\d{2,4}))?$/.exec(tidy);
  // ISO 3183 and API 5L are one table of grades.
  return match ? { key: "api5l", ...(match[1] !== undefined && { edition: match[1] }) } : undefined;
}

function parseEuropean(tidy: string): StandardName | undefined {
  const match =
    /^(EN|ISO|EN[\s/-]*ISO)[\s-]*(\d{2,5})(?:[\s-]+(\d{1,2}|[AB])(?![\d]))?(?:\s*[:-]\s*(\d{4})(?:-\d{2})?)?(?:\s*\+\s*A\d.*)?$/.exec(
      tidy.replace(NATIONAL_PREFIX, ""),
    );
  if (!match) return undefined;
  const [, body = "", number = "", part, edition] = match;
  // EN ISO 14343 and ISO 14343 are one text.
  const prefix = body.includes("ISO") ? "iso" : "en";
  return {
    key: `${prefix}${number}${part === undefined ? "" : `-${part.toLowerCase()}`}`,
    ...(edition !== undefined && { edition }),
  };
}
