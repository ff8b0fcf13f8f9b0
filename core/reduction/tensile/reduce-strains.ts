import { elasticStrain } from "./curve.js";
import { areaUnderCurveMJPerM3 } from "./energy.js";
import { findFracture } from "./fracture.js";
import { elongationOn } from "./gauge-length.js";
import type { Specimen } from "./record.js";
import type { ReducedResult, TensileWork } from "./reduction.js";

/** Ag, Agt, A and the toughness, as far as the strain follows the piece. Percentages as ISO 6892-1 counts them. */
export function reduceStrains(work: TensileWork, specimen: Specimen, areaMm2: number | undefined): ReducedResult[] {
  const { curve, line, highest, yieldPoint } = work;
  if (curve.strain.length < 3) return [];
  // Rm beyond the extensometer's range: neither the uniform elongations nor anything after them is in the record.
  const seesHighest = curve.complete || highest.index < curve.strain.length - 1;
  if (!seesHighest) return [];

  const zeroStrain = line?.zeroStrain ?? curve.strain[0]!;
  const top = yieldPoint && yieldPoint.upperMPa >= highest.stressMPa ? yieldPoint.hardenedIndex : highest.index;
  const index = Math.min(top, curve.strain.length - 1);
  const total = curve.strain[index]! - zeroStrain;
  const results: ReducedResult[] = [{ quantity: "Agt", value: 100 * total, notes: ["total strain at Rm"] }];
  if (line) {
    const plastic = curve.strain[index]! - elasticStrain(line, curve.stressMPa[index]!);
    results.push({
      quantity: "Ag",
      value: 100 * plastic,
      notes: ["plastic strain at Rm, elastic part by the slope taken off"],
    });
  }
  return curve.complete ? [...results, ...afterFracture(work, specimen, areaMm2)] : results;
}

/** A record that stops this close to Rm has seen no necking: it was stopped, or the piece broke without a neck. */
const STILL_UNIFORM = 0.98;

function afterFracture(work: TensileWork, specimen: Specimen, areaMm2: number | undefined): ReducedResult[] {
  const { curve, line, highest } = work;
  const toughness: ReducedResult = {
    quantity: "toughness",
    value: areaUnderCurveMJPerM3(curve),
    notes: ["area under the engineering curve to the end of the record"],
  };
  if (!line) return [toughness];

  const end = findFracture(curve, highest.index, highest.stressMPa);
  const percent = 100 * (curve.strain[end]! - elasticStrain(line, curve.stressMPa[end]!));
  const gaugeMm = (specimen.extensometerLengthMm ?? specimen.gaugeLengthMm)?.value;
  const quantity =
    gaugeMm === undefined || areaMm2 === undefined
      ? "Elongation"
      : elongationOn(gaugeMm, areaMm2, specimen.diameterMm?.value);
  const broke = end < curve.strain.length - 1;
  const unseen = !broke && curve.stressMPa[end]! > STILL_UNIFORM * highest.stressMPa;
  const notes = [
    `from the extensometer${gaugeMm === undefined ? "" : ` on ${gaugeMm} mm`}, elastic part by the slope taken off`,
    broke
      ? "break seen in the record"
      : `record ends at ${((100 * curve.stressMPa[end]!) / highest.stressMPa).toFixed(0)} % of Rm`,
  ];
  const doubtful = "the record ends before any necking: the piece may not have broken yet";
  const results: ReducedResult[] = [toughness];
  if (percent > 0) results.push({ quantity, value: percent, notes, ...(unseen && { doubtful }) });
  return results;
}
