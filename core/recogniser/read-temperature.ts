import { parseDecimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import type { Unit } from "../quantity/unit.js";

/** ISO 148-1 names 23 °C (± 5 °C) for tests at room temperature. */
const ROOM: Measure = { value: { digits: 23n, places: 0 }, unit: "°C" };

/** Finds a temperature with its unit in tidied text: "-196 °C", "-320 °F", "77 K", "RT". */
export function readTemperatureIn(text: string): { temperature: Measure; matched: string } | undefined {
  const match =
    /(?:(?<![\d.])([+-])\s?|(?<![\w.+-]))(\d{1,4}(?:[.,]\d{1,2})?)\s?(?:(°|deg\.?)\s?([CFK])|(K))(?![\w°])/i.exec(text);
  if (match) {
    const value = parseDecimal(`${match[1] ?? ""}${match[2]!.replace(",", ".")}`);
    const letter = (match[4] ?? match[5])!.toUpperCase();
    if (value && (match[5] === undefined || match[5] === "K")) {
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
