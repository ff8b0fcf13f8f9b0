const YEAR = String.raw`(?:19|20)\d{2}[A-E]?(?:E\d)?`;
const MONTH = String.raw`(?:-\d{2}(?!\d))?`;
const WORD = String.raw`\b(?:ED(?:ITION|N)?|AUSGABE|ISSUE)`;

/** "ED. 2018", "EDITION 18", "AUSGABE 2016-10", "2019 ED.": the word says that the number is an edition, wherever it stands. */
const WORDED = String.raw`${WORD}[ .:]*(?<worded>${YEAR}|\d{2}[A-E]?)(?![\dA-Z])${MONTH}|(?<![\d.])(?<before>${YEAR})${MONTH} ?${WORD}\b[.]?`;
/** "(2016)", ", 2018": a year that stands directly behind a standard. */
const DIRECTLY = String.raw`^ ?(?:\((?<bracketed>${YEAR})${MONTH}\)|, ?(?<following>${YEAR})${MONTH}(?=[ ,;]|$))`;

const WRITTEN = new RegExp(`${DIRECTLY}|[ ,(]*(?:${WORDED})[ ,)]*`);

/**
 * An edition that is written out in what follows a standard, and what is left without it: " ED. 2018 304L" is edition 2018 and
 * "304L". `text` is tidied (`tidyText`). undefined where there is none.
 */
export function writtenEdition(text: string): { readonly edition: string; readonly rest: string } | undefined {
  const match = WRITTEN.exec(text);
  if (!match) return undefined;
  const { worded, before, bracketed, following } = match.groups!;
  const edition = (worded ?? before ?? bracketed ?? following)!;
  const rest = `${text.slice(0, match.index)} ${text.slice(match.index + match[0].length)}`;
  return { edition, rest: rest.trim() };
}
