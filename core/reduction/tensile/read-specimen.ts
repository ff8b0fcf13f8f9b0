import type { Orientation, Zone } from "../../certificate/certificate.js";
import { parseDecimal } from "../../quantity/decimal.js";
import type { Measure } from "../../quantity/measure.js";
import type { HeaderLine } from "../reading/header-lines.js";
import { readNumber } from "../reading/number-style.js";
import { unitFactor } from "../reading/spelled-unit.js";
import type { Noted, Specimen } from "./record.js";

const AFTER = "final|after (?:fracture|test|break)|nach (?:dem )?bruch|end(?=durch|breite|dicke|quer|länge)";

function after(what: string, symbol: string): RegExp {
  return new RegExp(`\\b${symbol}\\b|(?:${AFTER}).*(?:${what})|(?:${what}).*(?:${AFTER})`);
}

/** Lengths and areas by the names that header lines give them; what was measured after fracture comes first. */
const DIMENSIONS: readonly (readonly [field: keyof Specimen, name: RegExp, dimension: "length" | "area"])[] = [
  ["finalAreaMm2", after("area|section|querschnitt|fläche", "su"), "area"],
  ["finalLengthMm", after("length|länge", "lu"), "length"],
  ["finalDiameterMm", after("diameter|durchmesser", "du"), "length"],
  ["finalWidthMm", after("width|breite", "bu"), "length"],
  ["finalThicknessMm", after("thickness|dicke", "au"), "length"],
  ["areaMm2", /\bs0\b|cross[- ]?section|^area\b|original area|querschnitt|^section$/, "area"],
  [
    "extensometerLengthMm",
    /\ble\b|extensometer.*(length|länge)|(length|länge).*extensometer|gerätemesslänge/,
    "length",
  ],
  ["parallelLengthMm", /\blc\b|parallel(e|-)? ?(length|länge)|versuchslänge/, "length"],
  ["gaugeLengthMm", /\bl0\b|gau?ge ?length|(anfangs)?messlänge|^length$/, "length"],
  ["diameterMm", /\bd0\b|diameter|durchmesser|ø/, "length"],
  ["widthMm", /\bb0\b|width|breite/, "length"],
  ["thicknessMm", /\ba0\b|thickness|dicke/, "length"],
];

const WORDS: readonly (readonly [field: "heat" | "id" | "material" | "standard", name: RegExp])[] = [
  [
    "heat",
    /^(heat|heat ?(no|nr|number|id)\.?|schmelze(n?[- ]?(nr|nummer))?\.?|charge(n?[- ]?(nr|nummer))?\.?|(cast|melt) ?(no|number)?\.?)$/,
  ],
  [
    "id",
    /^(specimen|sample|test ?piece|coupon) ?(id|no|nr|number|name|mark)?\.?|^(probe|probestab|prüfling|proben?[- ]?(nr|nummer|bezeichnung|kennzeichnung|name))\b/,
  ],
  ["material", /^(material|werkstoff|grade|steel ?grade|stahlsorte|güte)\b/],
  ["standard", /^(test )?(standard|norm|prüfnorm|method)\b/],
];

/** What the header lines say of the piece. The first line that names a thing wins, except that an id beats a name. */
export function readSpecimen(lines: readonly HeaderLine[], decimalMark: "." | ","): Specimen {
  const found = new Map<string, Noted<unknown>>();
  const note = (field: string, value: unknown, line: HeaderLine) => {
    const replaces = field === "id" && /\bid\b/.test(line.name);
    if (!found.has(field) || replaces) found.set(field, { value, printed: line.cell.text, place: line.cell.place });
  };
  for (const line of lines) {
    const dimension = DIMENSIONS.find(([, name]) => name.test(line.name));
    const size = dimension && sizeOf(line, dimension[2], decimalMark);
    if (dimension && size !== undefined) {
      note(dimension[0], size, line);
      continue;
    }
    const word = WORDS.find(([, name]) => name.test(line.name));
    if (word && isStated(line.value)) note(word[0], line.value, line);
    const temperature = readTemperature(line, decimalMark);
    if (temperature) note("temperature", temperature, line);
    const zone = readZone(line);
    if (zone) note("zone", zone, line);
    const orientation = readOrientation(line);
    if (orientation) note("orientation", orientation, line);
  }
  return Object.fromEntries(found) as Specimen;
}

/** Machines print a placeholder where nobody filled the field in. */
function isStated(value: string): boolean {
  return value !== "" && !/^(<?none>?|-+|n\/?a|k\.?\s?a\.?)$/i.test(value);
}

function sizeOf(line: HeaderLine, dimension: "length" | "area", decimalMark: "." | ","): number | undefined {
  const value = readNumber(line.value, decimalMark);
  const factor = unitFactor(line.unit === "" ? (dimension === "length" ? "mm" : "mm2") : line.unit, dimension);
  return value > 0 && factor !== undefined ? value * factor : undefined;
}

export function readTemperature(line: HeaderLine, decimalMark: "." | ","): Measure | undefined {
  if (!/temperatur|\btemp\b/.test(line.name) || /furnace|anneal|heat treat|glüh/.test(line.name)) return undefined;
  const text = decimalMark === "," ? line.value.replace(",", ".") : line.value;
  const value = parseDecimal(text.replace("−", "-"));
  if (!value) return undefined;
  if (/^°?f$|degf|fahrenheit/i.test(line.unit)) return { value, unit: "°F" };
  if (/^k$|kelvin/i.test(line.unit)) return { value, unit: "K" };
  return unitFactor(line.unit, "temperature") === 1 ? { value, unit: "°C" } : undefined;
}

export function readZone(line: { readonly name: string; readonly value: string }): Zone | undefined {
  return /zone|location|lage|ort\b|position|bereich|region|notch/.test(line.name) ? zoneFrom(line.value) : undefined;
}

/** "WM", "Schweißgut", "HAZ +2 mm", "base metal" … */
export function zoneFrom(text: string): Zone | undefined {
  if (/\b(haz|wez|heat[- ]affected)\b|wärmeeinfluss|fusion line/i.test(text)) return "haz";
  if (/weld|\bwm\b|schwei(ß|ss)|\bsg\b/i.test(text)) return "weld";
  if (/base|parent|\bbm\b|\bpm\b|grundwerkstoff|\bgw\b/i.test(text)) return "base";
  return undefined;
}

export function readOrientation(line: { readonly name: string; readonly value: string }): Orientation | undefined {
  return /orientation|direction|lage|richtung/.test(line.name) ? orientationFrom(line.value) : undefined;
}

export function orientationFrom(text: string): Orientation | undefined {
  if (/^(t|transverse?|quer|q|90\s?°?)$|transvers|quer/i.test(text)) return "transverse";
  if (/^(l|long|längs|0\s?°?)$|longitudinal|längs/i.test(text)) return "longitudinal";
  if (/^(z|through)|dickenrichtung/i.test(text)) return "through-thickness";
  return undefined;
}
