import { type Decimal, decimal, multiply } from "../quantity/decimal.js";
import { trimPlaces } from "../quantity/fraction.js";
import { divideHalfEven } from "../quantity/round.js";

/** Height of metal under the notch of a 10 mm high V-notch test piece. */
const V_NOTCH_LIGAMENT_CM = decimal("0.8");

/** KCV in J/cm2 from KV in J and the width in mm: 100 J on 10 mm are 125 J/cm2. */
export function energyPerArea(energyJ: Decimal, widthMm: Decimal): Decimal {
  return trimPlaces(divideHalfEven(energyJ, areaCm2(widthMm), energyJ.places + AREA_PLACES), energyJ.places);
}

/** KV in J from KCV in J/cm2, exactly. */
export function energyFromPerArea(perAreaJcm2: Decimal, widthMm: Decimal): Decimal {
  return multiply(perAreaJcm2, areaCm2(widthMm));
}

const AREA_PLACES = 9;

function areaCm2(widthMm: Decimal): Decimal {
  return multiply(V_NOTCH_LIGAMENT_CM, multiply(widthMm, decimal("0.1")));
}
