import { tidyText } from "./standard-name.js";

/** Words that only announce a grade and are part of no designation. */
const ANNOUNCING =
  /^(?:(?:TYPE|GRADE|GRADES|GR[.]?|ALLOY|AISI|UNS|W[.]? ?-?NR[.]?|WNR[.]?|MAT[.]? ?-?NO[.]?|MATERIAL|STEEL)[\s.:-]+)+/;

/**
 * Two spellings of one designation have the same key: "Type 304 L", "304L" and "304-l"; "X2CrNi18-9" and "X2 CrNi 18 9".
 * The dot of "1.4307" stays, for 1.4307 and 14307 are written by different people about different things.
 */
export function designationKey(text: string): string {
  return tidyText(text)
    .replace(ANNOUNCING, "")
    .replace(/[\s_-]+/g, "");
}
