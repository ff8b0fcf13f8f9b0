import type { HeaderLine } from "../reading/header-lines.js";
import { readNumber } from "../reading/number-style.js";
import { type RecordDimension, unitFactor } from "../reading/spelled-unit.js";
import { orientationFrom, readSpecimen, zoneFrom } from "../tensile/read-specimen.js";
import type { Pendulum } from "./absorbed-energy.js";
import type { ImpactRecord } from "./record.js";

type Described = Omit<ImpactRecord, "pieces" | "place" | "doubts">;

/** Reads the pendulum and what holds for all pieces from the header lines. */
export function readPendulum(lines: readonly HeaderLine[], decimalMark: "." | ","): Described {
  const number = (name: RegExp, dimension: RecordDimension, usual: string) => {
    for (const line of lines) {
      if (!name.test(line.name)) continue;
      const factor = unitFactor(line.unit === "" ? usual : line.unit, dimension);
      const value = readNumber(line.value, decimalMark);
      if (factor !== undefined && Number.isFinite(value)) return value * factor;
    }
    return undefined;
  };
  const specimen = readSpecimen(lines, decimalMark);
  const striker = number(/striker|hammerfinne|radius|couteau|coltello|cuchilla|percutor/, "length", "mm");
  const widthMm = specimen.widthMm?.value ?? sizeInName(lines);
  const zone =
    specimen.zone?.value ?? zoneFrom(lines.find(({ name }) => /zone|notch|kerblage/.test(name))?.value ?? "");
  const orientation = specimen.orientation?.value ?? orientationFrom("");
  return {
    pendulum: pendulumFrom(number),
    ...(striker === 2 || striker === 8 ? { striker } : {}),
    ...(specimen.standard && { standard: specimen.standard.value }),
    ...(specimen.temperature && { specifiedTemperature: specimen.temperature }),
    ...(specimen.heat && { heat: specimen.heat }),
    ...(zone && { zone }),
    ...(orientation && { orientation }),
    ...(widthMm !== undefined && { widthMm }),
  };
}

function pendulumFrom(
  number: (name: RegExp, dimension: RecordDimension, usual: string) => number | undefined,
): Pendulum {
  const heightMm = number(
    /(release|drop|fall).*(height|höhe)|fallhöhe|^h1$|(hauteur|altezza|altura).*(chute|caduta|caída)/,
    "length",
    "",
  );
  const lengthMm = number(
    /(pendulum|pendel|strik|hammer).*(length|länge)|centre of|center of|\bl\b|pendellänge|(longueur|lunghezza|longitud).*(pendul|péndulo|pendolo)/,
    "length",
    "",
  );
  const swings = [
    /(β|beta) ?1\b|with pointer|mit schlepp/,
    /(β|beta) ?2\b|without pointer|ohne schlepp/,
    /(β|beta) ?3\b|ten half|zehn/,
  ];
  const [withPointer, pointerDriven, afterTenHalfSwings] = swings.map((name) => number(name, "angle", "°"));
  const found = {
    momentNm: number(/moment/, "moment", "N·m"),
    massKg: number(/mass|gewicht|\bmasa\b/, "mass", "kg"),
    lengthM: lengthMm === undefined ? undefined : lengthMm / 1000,
    gravity: number(/gravity|free fall|fallbeschleunigung|^g$/, "strain", "1"),
    releaseAngle: number(
      /(release|fall|drop|initial).*(angle|winkel)|fallwinkel|^(α|alpha)$|(angle|angolo|ángulo).*(chute|caduta|caída)/,
      "angle",
      "°",
    ),
    releaseHeightM: heightMm === undefined ? undefined : heightMm / 1000,
    nominalEnergyJ: number(/nomina|capacity|nennarbeit|arbeitsvermögen|scale|capacit[éà]|capacidad/, "energy", "J"),
    freeSwing:
      withPointer === undefined || pointerDriven === undefined || afterTenHalfSwings === undefined
        ? undefined
        : { withPointer, pointerDriven, afterTenHalfSwings },
  };
  return Object.fromEntries(Object.entries(found).filter(([, value]) => value !== undefined)) as Pendulum;
}

/** "Specimen size: 10 x 10 x 55 mm": the width across the notch plane is the one that sub-size pieces change. */
function sizeInName(lines: readonly HeaderLine[]): number | undefined {
  for (const { name, value } of lines) {
    const match =
      /size|dimension|abmessung|größe/.test(name) && /(\d+(?:[.,]\d+)?)\s*[x×]\s*(\d+(?:[.,]\d+)?)/.exec(value);
    if (match) return Math.min(...[match[1]!, match[2]!].map((text) => Number(text.replace(",", "."))));
  }
  return undefined;
}
