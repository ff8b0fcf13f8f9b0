import type { Orientation, Zone } from "../../certificate/certificate.js";
import { parseDecimal } from "../../quantity/decimal.js";
import type { Measure } from "../../quantity/measure.js";
import type { HeaderLine } from "../reading/header-lines.js";
import { readNumber } from "../reading/number-style.js";
import { unitFactor } from "../reading/spelled-unit.js";
import type { Noted, Specimen } from "./record.js";

const AFTER =
  "final|after (?:fracture|test|break)|nach (?:dem )?bruch|end(?=durch|breite|dicke|quer|länge)|après (?:rupture|essai)|dopo (?:la )?rottura|(?:después|tras) (?:de )?(?:la )?rotura";

const LENGTH = "length|länge|longueur|lunghezza|longitud";
const AREA = "area|section|querschnitt|fläche|aire|sezione|sección|área";
const DIAMETER = "diameter|durchmesser|diamètre|diametro|diámetro";
const WIDTH = "width|breite|largeur|larghezza|anch(?:o|ura)";
const THICKNESS = "thickness|dicke|épaisseur|spessore|espesor";
const EXTENSOMETER = "extensometer|extensomètre|estens[io]metro|extensómetro";

function after(what: string, symbol: string): RegExp {
  return new RegExp(`\\b${symbol}\\b|(?:${AFTER}).*(?:${what})|(?:${what}).*(?:${AFTER})`);
}

/** Lengths and areas by the names that header lines give them; what was measured after fracture comes first. */
const DIMENSIONS: readonly (readonly [field: keyof Specimen, name: RegExp, dimension: "length" | "area"])[] = [
  ["finalAreaMm2", after(AREA, "su"), "area"],
  ["finalLengthMm", after(LENGTH, "lu"), "length"],
  ["finalDiameterMm", after(DIAMETER, "du"), "length"],
  ["finalWidthMm", after(WIDTH, "bu"), "length"],
  ["finalThicknessMm", after(THICKNESS, "au"), "length"],
  [
    "areaMm2",
    /\bs0\b|cross[- ]?section|^(?:area|aire|área)\b|original area|querschnitt|^(?:section|sezione|sección)(?: initiale| iniziale| inicial)?$/,
    "area",
  ],
  [
    "extensometerLengthMm",
    new RegExp(
      `\\ble\\b|(?:${EXTENSOMETER}).*(?:${LENGTH})|(?:${LENGTH}|base).*(?:${EXTENSOMETER})|gerätemesslänge|^base de mesure`,
    ),
    "length",
  ],
  [
    "parallelLengthMm",
    /\blc\b|parallel(e|-)? ?(length|länge)|versuchslänge|longueur calibrée|lunghezza calibrata|longitud calibrada/,
    "length",
  ],
  [
    "gaugeLengthMm",
    /\bl0\b|gau?ge ?length|(anfangs)?messlänge|^(?:length|original length)$|longueur (?:initiale|entre repères)|lunghezza iniziale|tratto utile|longitud inicial|longitud entre puntos/,
    "length",
  ],
  ["diameterMm", new RegExp(`\\bd0\\b|${DIAMETER}|ø`), "length"],
  ["widthMm", new RegExp(`\\bb0\\b|${WIDTH}`), "length"],
  ["thicknessMm", new RegExp(`\\ba0\\b|${THICKNESS}`), "length"],
];

const WORDS: readonly (readonly [field: "heat" | "id" | "material" | "standard", name: RegExp])[] = [
  [
    "heat",
    /^(heat|heat ?(no|nr|number|id)\.?|schmelze(n?[- ]?(nr|nummer))?\.?|charge(n?[- ]?(nr|nummer))?\.?|(cast|melt) ?(no|number)?\.?|(?:n[°o.º]* (?:de |di )?)?(?:coulée|colata|colada)(?: (?:n[°o.º]*|numéro|numero|número))?)$/,
  ],
  [
    "id",
    /^(specimen|sample|test ?piece|coupon) ?(id|no|nr|number|name|mark)?\.?|^(probe|probestab|prüfling|proben?[- ]?(nr|nummer|bezeichnung|kennzeichnung|name))\b|^(éprouvette|échantillon|provetta|provino|campione|probeta|muestra)/,
  ],
  ["material", /^(material|werkstoff|grade|steel ?grade|stahlsorte|güte|matériau|nuance|materiale)\b/],
  ["standard", /^(test )?(standard|norm|norme|norma|prüfnorm|method)\b/],
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
  if (
    !/temp[eé]ratur|\btemp\b/.test(line.name) ||
    /furnace|anneal|heat treat|glüh|recuit|ricottura|recocido/.test(line.name)
  )
    return undefined;
  const [, number = "", scale = line.unit] = /^([-−+]?[\d.,]+)(?:\s*(°?\s?[CFK]))?$/i.exec(line.value.trim()) ?? [];
  const value = parseDecimal((decimalMark === "," ? number.replace(",", ".") : number).replace("−", "-"));
  const unit = scaleOf(scale);
  return value && unit && { value, unit };
}

/** The temperature scale that a unit names. */
export function scaleOf(unit: string): "°C" | "°F" | "K" | undefined {
  if (/^[([]?\s*(°?\s?f|degf|fahrenheit)\s*[)\]]?$/i.test(unit)) return "°F";
  if (/^[([]?\s*(k|kelvin)\s*[)\]]?$/i.test(unit)) return "K";
  return unitFactor(unit, "temperature") === 1 ? "°C" : undefined;
}

export function readZone(line: { readonly name: string; readonly value: string }): Zone | undefined {
  return /zon[ea]|location|lage|ort\b|positi?on|posi[zc]i[oó]n|bereich|region|notch|emplacement|ubicación/.test(
    line.name,
  )
    ? zoneFrom(line.value)
    : undefined;
}

/** "WM", "Schweißgut", "HAZ +2 mm", "base metal" … */
export function zoneFrom(text: string): Zone | undefined {
  if (
    /\b(haz|wez|zat|zta|zac|heat[- ]affected)\b|wärmeeinfluss|fusion line|affectée thermiquement|termicamente alterata|afectada/i.test(
      text,
    )
  )
    return "haz";
  if (/weld|\bwm\b|schwei(ß|ss)|\bsg\b|soudure|métal fondu|saldatura|soldadura/i.test(text)) return "weld";
  if (/base|parent|\bbm\b|\bpm\b|\bmb\b|grundwerkstoff|\bgw\b/i.test(text)) return "base";
  return undefined;
}

export function readOrientation(line: { readonly name: string; readonly value: string }): Orientation | undefined {
  return /orientation|direction|lage|richtung|^sens\b|direzione|dirección|orienta/.test(line.name)
    ? orientationFrom(line.value)
    : undefined;
}

export function orientationFrom(text: string): Orientation | undefined {
  if (/^(t|transverse?|quer|q|90\s?°?)$|tran?svers|^travers|quer/i.test(text)) return "transverse";
  if (/^(l|long|längs|0\s?°?)$|longitudinal|längs/i.test(text)) return "longitudinal";
  if (/^(z|through)|dickenrichtung/i.test(text)) return "through-thickness";
  return undefined;
}
