import type { PlacedDoubt } from "../../recogniser/cells.js";
import { momentOf, type Pendulum, releaseEnergyJ } from "./absorbed-energy.js";
import { MOST_LOSS_SHARE, pendulumLosses } from "./losses.js";

/** What can be seen wrong with the pendulum itself: then no energy from it decides. */
export function pendulumDoubts(pendulum: Pendulum): PlacedDoubt[] {
  const potentialJ = releaseEnergyJ(pendulum);
  return [
    losses(pendulum),
    improbable(pendulum),
    potentialJ === undefined ? undefined : notNominal(pendulum, potentialJ),
  ].filter((doubt) => doubt !== undefined);
}

function losses(pendulum: Pendulum): PlacedDoubt | undefined {
  const found = pendulumLosses(pendulum);
  const capacityJ = pendulum.nominalEnergyJ ?? releaseEnergyJ(pendulum);
  if (!found || capacityJ === undefined) return undefined;
  const total = found.pointerJ + found.bearingAndAirJ;
  const isNegative = found.pointerJ < 0 || found.bearingAndAirJ < 0;
  if (!isNegative && total <= MOST_LOSS_SHARE * capacityJ) return undefined;
  const message = isNegative
    ? "The free swings say that the pendulum gains energy: β1, β2 and β3 are interchanged or misread."
    : `The pendulum loses ${total.toFixed(2)} J a swing, more than 0.5 % of its ${capacityJ.toFixed(0)} J (ISO 148-2).`;
  return { code: "pendulum-losses", message, quantity: "KV" };
}

/** Pendulums for metals hold 0.5 to 750 J; beyond this a unit or an angle is not what it seems (common practice, no source). */
const LEAST_J = 0.4;
const MOST_J = 1000;
/** Charpy pendulums are released from 90° to 160° from where they hang (common practice, no source). */
const LEAST_RELEASE = 60;
const MOST_RELEASE = 180;

function improbable(pendulum: Pendulum): PlacedDoubt | undefined {
  const potentialJ = releaseEnergyJ(pendulum);
  const { releaseAngle } = pendulum;
  const isOddAngle = releaseAngle !== undefined && (releaseAngle < LEAST_RELEASE || releaseAngle > MOST_RELEASE);
  const isOddEnergy = potentialJ !== undefined && (potentialJ < LEAST_J || potentialJ > MOST_J);
  if (!isOddAngle && !isOddEnergy) return undefined;
  const what = isOddAngle
    ? `is released at ${Number(releaseAngle.toPrecision(4))}°`
    : `would hold ${potentialJ!.toPrecision(3)} J at release`;
  const message = `The pendulum ${what}, as none for metals does: check the units of angle, mass and length.`;
  return { code: "pendulum-improbable", message, quantity: "KV" };
}

/** ISO 148-2 wants the potential energy within 1 % of the nominal one (from memory); three times that is no adjustment any more. */
const NOMINAL_SHARE = 0.03;

function notNominal({ nominalEnergyJ, ...pendulum }: Pendulum, potentialJ: number): PlacedDoubt | undefined {
  if (nominalEnergyJ === undefined || Math.abs(potentialJ / nominalEnergyJ - 1) <= NOMINAL_SHARE) return undefined;
  const from = momentOf(pendulum) === undefined ? "mass and height" : "mass, length and release angle";
  const message =
    `The pendulum is said to hold ${Number(nominalEnergyJ.toPrecision(4))} J, but ${from} give ${potentialJ.toPrecision(4)} J: ` +
    "a unit or a number of them is wrong.";
  return { code: "pendulum-contradicts", message, quantity: "KV" };
}
