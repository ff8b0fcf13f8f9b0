import { tidy } from "./plain-text.js";

/**
 * Finds an EN 10204 document type in a text that speaks of one. Types of the 1991 edition read as today's:
 * 3.1.B is 3.1; 3.1.A, 3.1.C and the old 3.2 are 3.2.
 */
export function findDocumentType(text: string): { type: string; printed: string } | undefined {
  const tidied = tidy(text);
  const spoken = /10204|inspection cert|certificate|certificat|zeugnis|bescheinigung|type|typ\b|art\b|document/i.test(
    tidied,
  );
  return spoken || /^\s*[23]\.[12]/.test(tidied) ? readDocumentType(tidied) : undefined;
}

/** The type itself: "3.1", "3.1.B", "EN 10204-3.1", "EN 10204:2004 type 3.1". */
function readDocumentType(text: string): { type: string; printed: string } | undefined {
  const types = [...text.matchAll(/(?<![\d.])([23])\.([12])(?:\.?([ABC])\b)?(?![\d.]*\d)/g)].map((match) => ({
    type: match[3] === "A" || match[3] === "C" ? "3.2" : `${match[1]}.${match[2]}`,
    printed: match[0],
  }));
  const distinct = new Set(types.map(({ type }) => type));
  return distinct.size === 1 ? types[0] : undefined;
}
