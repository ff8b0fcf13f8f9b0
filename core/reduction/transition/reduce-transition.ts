import {
  fitTransition,
  isRefusal,
  type TransitionFit,
  type TransitionPoint,
  type TransitionRefusal,
} from "./fit-transition.js";
import {
  type TransitionTemperature,
  transitionTemperature,
  upperShelf,
  type WithInterval,
} from "./transition-results.js";

/** Results by piece at each temperature; expansion and shear where they were measured. */
export interface TransitionSeries {
  readonly energyJ: readonly TransitionPoint[];
  readonly expansionMm?: readonly TransitionPoint[];
  readonly shearPercent?: readonly TransitionPoint[];
}

export interface TransitionReduction {
  readonly energy: TransitionFit | TransitionRefusal;
  /** Absent where the energies carry no curve. */
  readonly T27J?: TransitionTemperature;
  readonly T41J?: TransitionTemperature;
  readonly upperShelfJ?: WithInterval;
  /** Temperature for 50 % shear fracture, shelves held at 0 and 100 %. */
  readonly T50SFA?: TransitionTemperature | TransitionRefusal;
  /** Temperature for 0.9 mm lateral expansion. */
  readonly T09mm?: TransitionTemperature | TransitionRefusal;
}

/** Transition temperatures as ISO 148-1, annex D, names them. What the data do not carry is refused, each for itself. */
export function reduceTransition(series: TransitionSeries): TransitionReduction {
  const energy = fitTransition(series.energyJ);
  const shear = series.shearPercent && fitTransition(series.shearPercent, { lower: 0, upper: 100 });
  const expansion = series.expansionMm && fitTransition(series.expansionMm);
  return {
    energy,
    ...(!isRefusal(energy) && {
      T27J: transitionTemperature(energy, 27, "J"),
      T41J: transitionTemperature(energy, 41, "J"),
      upperShelfJ: upperShelf(energy),
    }),
    ...(shear && { T50SFA: isRefusal(shear) ? shear : transitionTemperature(shear, 50, "%") }),
    ...(expansion && { T09mm: isRefusal(expansion) ? expansion : transitionTemperature(expansion, 0.9, "mm") }),
  };
}
