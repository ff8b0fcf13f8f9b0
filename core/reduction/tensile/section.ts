import type { CurveDoubt } from "./curve-doubt.js";
import { EVERYTHING, STRESSES } from "./curve-doubt.js";
import type { Specimen } from "./record.js";

export interface Section {
  readonly areaMm2: number;
  /** How it came about: "20.14 mm x 5.99 mm". */
  readonly from: string;
  readonly doubts: readonly CurveDoubt[];
}

/** Areas of one piece, measured and computed, agree within this share: dimensions are read to 0.5 % (ISO 6892-1:2019, clause 7). */
const AREA_TOLERANCE = 0.01;

/** Original cross-section S0: as stated, else from diameter, else from width and thickness; undefined without any of them. */
export function originalSection(specimen: Specimen): Section | undefined {
  const stated = specimen.areaMm2?.value;
  const computed = areaFrom(specimen.diameterMm?.value, specimen.widthMm?.value, specimen.thicknessMm?.value);
  if (stated === undefined) return computed && { ...computed, doubts: [] };
  if (!computed || Math.abs(computed.areaMm2 / stated - 1) <= AREA_TOLERANCE) {
    return { areaMm2: stated, from: "as stated", doubts: [] };
  }
  const message =
    `The stated section ${short(stated)} mm² does not follow from ${computed.from} (${short(computed.areaMm2)} mm²); ` +
    "the stated one was used for every stress. Check both.";
  return { areaMm2: stated, from: "as stated", doubts: [{ code: "section-contradicts", message, affects: STRESSES }] };
}

function areaFrom(diameterMm?: number, widthMm?: number, thicknessMm?: number) {
  if (diameterMm !== undefined) {
    return { areaMm2: (Math.PI * diameterMm ** 2) / 4, from: `diameter ${short(diameterMm)} mm` };
  }
  if (widthMm === undefined || thicknessMm === undefined) return undefined;
  return { areaMm2: widthMm * thicknessMm, from: `${short(widthMm)} mm x ${short(thicknessMm)} mm` };
}

export function finalSectionMm2(specimen: Specimen): number | undefined {
  const { finalAreaMm2, finalDiameterMm, finalWidthMm, finalThicknessMm } = specimen;
  return finalAreaMm2?.value ?? areaFrom(finalDiameterMm?.value, finalWidthMm?.value, finalThicknessMm?.value)?.areaMm2;
}

export const sectionMissing: CurveDoubt = {
  code: "section-missing",
  message:
    "The record gives forces but no cross-section, so no stress can be computed. State width and thickness, diameter or area " +
    "in the record's header lines.",
  affects: EVERYTHING,
};

function short(value: number): string {
  return String(Number(value.toPrecision(6)));
}
