import { tidyText } from "./standard-name.js";

/** Words that only announce a grade and are part of no designation. */
const ANNOUNCING =
  /^(?:(?:TYPE|GRADE|GRADES|GR[.]?|ALLOY|AISI|UNS|W[.]? ?-?NR[.]?|WNR[.]?|MAT[.]? ?-?NO[.]?|MATERIAL|STEEL)[\s.:-]+)+/;

/** Delivery condition after a European designation: 1.4307+AT, S355J2+N. It is part of some designations and not of others. */
const DELIVERY = /\+(?:AR|AT|N|NT|QT|M|A|C|U|CR|SR|P|H)$/;

/**
 * Two spellings of one designation have the same key: "Type 304 L", "304L" and "304-l"; "X2CrNi18-9" and "X2 CrNi 18 9".
 * The dot of "1.4307" stays, for 1.4307 and 14307 are written by different people about different things.
 */
export function designationKey(text: string): string {
  return tidyText(text)
    .replace(ANNOUNCING, "")
    .replace(/\b(?:CLASS|CL[.]?)\s*(?=\d)/g, "CL")
    .replace(/\b(?:GRADE|GR[.]?)\s*(?=\w)/g, "GR")
    .replace(/[\s_-]+/g, "");
}

/** The key without its delivery condition, where it has one. */
export function keyWithoutDelivery(key: string): string | undefined {
  const plain = key.replace(DELIVERY, "");
  return plain === key || plain === "" ? undefined : plain;
}
