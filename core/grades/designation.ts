import { tidyText } from "./standard-name.js";

/** Words that only announce a grade and are part of no designation: "Type 304L", "Werkstoff-Nr. 1.4307", "nuance 1.4307". */
const ANNOUNCING =
  /^(?:(?:TYPE|GRADES?|GR|ALLOY|AISI|UNS|W[.]? ?-?NR|MAT[.]? ?-?N[OR]|MATERIAL|STEEL|WERKSTOFF(?:[ -]?(?:NR|NUMMER))?|NUANCE)[ .:-]+)+/;

/** "SS 304L": stainless steel, as shops write it before the three digits of AISI. Swedish numbers after SS have four. */
const STAINLESS = /^SS[ -]?(?=[234]\d{2}(?!\d))/;

/** Delivery condition after a European designation: 1.4307+AT, S355J2+N. It is part of some designations and not of others. */
const DELIVERY = /\+(?:AR|AT|N|NT|QT|M|A|C|U|CR|SR|P|H)$/;

/**
 * Two spellings of one designation have the same key: "Type 304 L", "304L" and "304-l"; "X2CrNi18-9" and "X2 CrNi 18 9".
 * The dot of "1.4307" stays, for 1.4307 and 14307 are written by different people about different things.
 */
export function designationKey(text: string): string {
  return tidyText(text)
    .replace(ANNOUNCING, "")
    .replace(STAINLESS, "")
    .replace(/\b(?:CLASS|CL[.]?) ?(?=\d)/g, "CL")
    .replace(/\b(?:GRADE|GR[.]?) ?(?=\w)/g, "GR")
    .replace(/[ _-]/g, "");
}

/** The key without its delivery condition, where it has one. */
export function keyWithoutDelivery(key: string): string | undefined {
  const plain = key.replace(DELIVERY, "");
  return plain === key || plain === "" ? undefined : plain;
}
