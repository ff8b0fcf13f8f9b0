import { parseDecimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import type { Unit } from "../quantity/unit.js";

/** ISO 148-1 names 23 °C (± 5 °C) for tests at room temperature. */
const ROOM: Measure = { value: { digits: 23n, places: 0 }, unit: "°C" };

/** Finds a temperature with its unit in tidied text: "-196 °C", "-320 °F", "77 K", "RT". */
export function readTemperatureIn(text: string): { temperature: Measure; matched: string } | undefined {
  // "-196 C" needs no degree sign: with a sign before it, no piece number and no element is meant.
  const match =
    /(?:(?<![\d.])(minus |[+-])\s?|(?<![\w.+-]))(\d{1,4}(?:[.,]\d{1,2})?)\s?(?:(°|deg\.?)\s?([CFK])|(?<=(?:minus |-)\s?\d{2,3}\s?)([CF])|(K))(?![\w°])/i.exec(
      text,
    );
  if (match) {
    const [, sign, digits, , afterDegree, bare, kelvin] = match;
    const value = parseDecimal(`${sign?.replace(/minus /i, "-") ?? ""}${digits!.replace(",", ".")}`);
    const undegreed = bare ?? kelvin;
    const letter = (afterDegree ?? undegreed)!.toUpperCase();
    // No temperature is below 0 K: "AL-4471K" is a name.
    const isName = letter === "K" && sign !== undefined && sign !== "+";
    if (value && !isName && (undegreed === undefined || undegreed === letter)) {
      return { temperature: { value, unit: (letter === "K" ? "K" : `°${letter}`) as Unit }, matched: match[0] };
    }
  }
  const room =
    /(?<![A-Za-z])(?:at )?(?:RT|R\.T\.|room temp(?:erature|\.)?|ambient(?: temp(?:erature|\.)?)?|raumtemperatur|temp[ée]rature ambiante|temperatura ambiente)(?![A-Za-z])/i.exec(
      text,
    );
  return room ? { temperature: ROOM, matched: room[0] } : undefined;
}

/** A cell under a temperature title: the number alone, or with its own unit. */
export function readTemperature(text: string, titleUnit: Unit | undefined): Measure | undefined {
  const stated = readTemperatureIn(text);
  if (stated) return stated.temperature;
  const value = parseDecimal(text.replace(/^([+-])\s/, "$1").replace(",", "."));
  return value && titleUnit ? { value, unit: titleUnit } : undefined;
}
