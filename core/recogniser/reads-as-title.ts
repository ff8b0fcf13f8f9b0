import { kindOf } from "../quantity/quantity.js";
import { tidy } from "./plain-text.js";
import type { Title } from "./title.js";
import type { TitleReader } from "./title-reader.js";

/**
 * Whether a text where a heat's name should stand is made of titles ("Provetta 1 Snervamento Rp0,2", "Weight 1200", "KV2") or is a
 * value ("1.1 mm"; but "44712K" may be a name). Words of up to two letters are no sign, since names begin with such ("RM 4471", "Si 12"), nor is the word "heat" itself.
 */
export function readsAsTitle(text: string, titles: TitleReader): boolean {
  const whole = titles.read(text);
  if (whole.rest === "" && saysMoreThanHeat(whole)) return true;
  const trailer = /^[\d.,]+ ?(\D{2,}|%)$/.exec(tidy(text))?.[1];
  if (trailer !== undefined && titles.read(trailer).unit !== undefined) return true;
  // "Lot 4471" among heats is what the paper calls that heat.
  if (LOT.test(text)) return false;
  const words = tidy(text).split(" ");
  return words.length > 1 && words.some((word) => isTitleWord(word, titles.read(word)));
}

const LOT = /^\s*(?:lot|batch|los|lotto|lote|partida)\s*(?:no\.?|nr\.?|n[°º]|#)?\s*[A-Z]{0,3}-?\d[\w-]*\s*$/i;

/** Whether one word among others is a title: "Snervamento", "Rp0,2". */
export function isTitleWord(word: string, title: Title): boolean {
  if (title.rest !== "" || !saysMoreThanHeat(title)) return false;
  // "Rp0.2", "KV2" and the like are symbols of tests; "Cr" or "A" alone may begin a name.
  const isTestSymbol = title.quantity !== undefined && kindOf(title.quantity) !== "chemistry" && /\d/.test(word);
  return isTestSymbol || /\p{L}{3}/u.test(word);
}

/** A factor alone ("X1000") is no title. */
function saysMoreThanHeat({ rest: _rest, field, code: _code, power: _power, ...said }: Title): boolean {
  return (field !== undefined && field !== "heat") || Object.keys(said).length > 0;
}
