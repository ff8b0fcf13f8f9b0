/** How the trade writes the standards that products are ordered to. Edition: a year after a hyphen or colon. */
const STANDARD_PATTERNS: readonly RegExp[] = [
  /\b(?:ASTM|ASME)?[\s/-]*S?A[\s-]?\d{2,4}M?(?:\s?\/\s?S?A[\s-]?\d{2,4}M?)?(?!\d)/gi,
  /\b(?:ASTM|ASME)[\s-]*S?[BE][\s-]?\d{2,4}M?(?:\s?\/\s?S?[BE][\s-]?\d{2,4}M?)?(?!\d)/gi,
  /\b(?:(?:DIN|BS|NF|UNI|UNE|SS|ÖNORM|SFS)[\s-]*)?(?:EN[\s-]*)(?:ISO[\s-]*)?\d{3,5}(?:-\d{1,2}(?!\d))?/gi,
  /\bISO[\s-]*\d{3,5}(?:-\d{1,2}(?!\d))?/gi,
  /\bDIN\s*\d{3,5}(?:-\d{1,2}(?!\d))?/gi,
  /\bJIS\s*G\s?\d{4}/gi,
  /\bGB\/?T?\s*\d{3,5}(?:\.\d)?/gi,
  /\bAPI\s*5L\b/gi,
  /\bAWS\s*A5\.\d{1,2}M?/gi,
  /\b(?:ASME\s*)?SFA[\s-]*5\.\d{1,2}M?/gi,
  /\bAMS\s*\d{4}[A-Z]?\b/gi,
];
const EDITION = /^\s?(?:[-:]\s?)((?:19|20)?\d{2}(?:[a-z](?:\d{1,2})?|e\d)?(?:\s?\(\d{4}\))?)(?![\d.])/i;
/** Inspection and test standards: on certificates everywhere, and never what the material is. */
const NOT_PRODUCT =
  /\b(?:10204|10168|6892|148|6506|6507|6508|10474|9001|3834|17025|14001|9016|4136|10025-1|E8|E23|A370|A751|A262|A480|A484|A6|A20|A788)M?\b/i;

export interface StandardFound {
  readonly standard: string;
  readonly edition?: string;
  readonly from: number;
  readonly to: number;
}

/** Product standards named in a text, in order. */
export function findStandards(text: string): StandardFound[] {
  const found: StandardFound[] = [];
  for (const pattern of STANDARD_PATTERNS) {
    for (const match of text.matchAll(pattern)) {
      const printed = match[0];
      const from = match.index;
      if (!/\d/.test(printed) || NOT_PRODUCT.test(printed) || !isWholeStandard(printed)) continue;
      if (found.some((other) => from < other.to && other.from < from + printed.length)) continue;
      const edition = EDITION.exec(text.slice(from + printed.length));
      found.push({
        standard: tidyStandard(printed),
        ...(edition && { edition: edition[1]! }),
        from,
        to: from + printed.length + (edition?.[0].length ?? 0),
      });
    }
  }
  return found.sort((left, right) => left.from - right.from);
}

export function hasStandard(text: string): boolean {
  return findStandards(text).length > 0;
}

/** A bare "A5" or "A 50" is an elongation: without ASTM or ASME in front, a number needs three digits or a known two. */
function isWholeStandard(printed: string): boolean {
  if (/ASTM|ASME/i.test(printed)) return true;
  if (!/^[\s/-]*S?A[\s-]?\d/i.test(printed)) return true;
  return /\d{3}/.test(printed) || /^[\s/-]*S?A[\s-]?36(?!\d)/i.test(printed);
}

/** "ASTM A240/A240M", "ASME SA-240", "EN 10028-7": one spelling of spaces and capitals, the words as printed. */
function tidyStandard(printed: string): string {
  const text = printed
    .replace(/^[\s/-]+/, "")
    .replace(/\s+/g, " ")
    .toUpperCase()
    .trim();
  const named = /^S?A[\s-]?\d/.test(text) ? `${text.startsWith("SA") ? "ASME" : "ASTM"} ${text}` : text;
  return named
    .replace(/^(ASTM|ASME)[\s-]*/, "$1 ")
    .replace(/\b(SA|SB)[\s-]*(\d)/g, "$1-$2")
    .replace(/(^|[\s/])([ABE])[\s-]+(\d)/g, "$1$2$3")
    .replace(/\s?\/\s?/g, "/")
    .replace(/\bEN[\s-]*ISO[\s-]*(\d)/, "EN ISO $1")
    .replace(/\bEN[\s-]*(\d)/, "EN $1");
}
