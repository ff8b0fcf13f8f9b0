import { toNumber } from "../quantity/decimal.js";
import type { Element } from "../quantity/quantity.js";
import type { Chemistry } from "./chemistry.js";
import { NETWORK_1999 } from "./ferrite-network-weights.js";

/**
 * Three numerical routes to a Ferrite Number. No official equation of the WRC-1992 diagram was found; the routes differ by
 * about 2 FN below 10 FN and none is the diagram. Contents that are not reported count as zero here.
 */

/** FN in the range that the diagram's lines cover; the fit was made to lines from 2 to 100. */
export const WRC_1992_AXES = { creq: { from: 17, to: 31 }, nieq: { from: 9, to: 18 } } as const;

/**
 * Cubic fit of ln FN to digitised WRC-1992 lines, by the WRC-1992 equivalents; undefined outside the axes.
 * A third party's fit, taken over as numbers and not verified. The linear chromium factor is printed as a pair,
 * 57326.9004 and -57324.1225, of which only the sum matters.
 */
export function ferriteByFit(creq: number, nieq: number): number | undefined {
  const { creq: x, nieq: y } = WRC_1992_AXES;
  if (creq < x.from || creq > x.to || nieq < y.from || nieq > y.to) return undefined;
  const logarithm =
    0.00233243019 * creq ** 3 +
    0.000899145111 * nieq ** 3 -
    0.0054796261 * creq ** 2 * nieq +
    0.00579044727 * nieq ** 2 * creq -
    0.127285636 * creq ** 2 -
    0.191104461 * nieq ** 2 +
    0.15540389 * creq * nieq +
    (57326.9004 - 57324.1225) * creq -
    22.9132546;
  return Math.exp(logarithm);
}

/** FNN-1999; undefined where a content lies outside what the network was trained on. */
export function ferriteByNetwork(chemistry: Chemistry): number | undefined {
  const scaled = NETWORK_1999.inputs.map(({ element, least, most }) => {
    const content = element === "Fe" ? ironBalance(chemistry) : contentOf(chemistry, element);
    return {
      share: (content - least) / (most - least),
      inside: content <= most && (content >= least || least < TRACE),
    };
  });
  if (scaled.some(({ inside }) => !inside)) return undefined;
  const hidden = NETWORK_1999.hiddenBias.map((bias, unit) =>
    logistic(scaled.reduce((sum, { share }, input) => sum + share * NETWORK_1999.inputs[input]!.weights[unit]!, bias)),
  );
  const output = logistic(
    hidden.reduce((sum, value, unit) => sum + value * NETWORK_1999.outputWeights[unit]!, NETWORK_1999.outputBias),
  );
  return (output - NETWORK_1999.output.zero) * NETWORK_1999.output.scale;
}

/** Smallest contents in the training set are traces; zero is as near to them as no matter. */
const TRACE = 0.1;

function ironBalance(chemistry: Chemistry): number {
  const others = NETWORK_1999.inputs.filter(({ element }) => element !== "Fe");
  return others.reduce((left, { element }) => left - contentOf(chemistry, element), 100);
}

function logistic(value: number): number {
  return 1 / (1 + Math.exp(-value));
}

/**
 * Three straight pieces with equivalents of their own (a stainless producer's handbook, by way of jarmol/Metallurgy, MIT).
 * It must not be fed WRC-1992 equivalents, and misses duplex steels by a third: undefined above 18 FN.
 */
export function ferriteByStraightPieces(chemistry: Chemistry): number | undefined {
  const of = (element: Element) => contentOf(chemistry, element);
  const creq = of("Cr") + 1.5 * of("Si") + of("Mo") + 2 * of("Ti") + 0.5 * of("Nb");
  const nieq = of("Ni") + 0.5 * of("Mn") + 30 * (of("C") + of("N")) + 0.5 * of("Cu");
  const first = 3.34 * creq - 2.46 * nieq - 28.6;
  const ferrite = first < 6 ? first : first < 12 ? 4.44 * creq - 3.39 * nieq - 38.4 : 4.06 * creq - 3.23 * nieq - 32.2;
  return ferrite <= 18 ? Math.max(0, ferrite) : undefined;
}

function contentOf(chemistry: Chemistry, element: Element): number {
  const content = chemistry.get(element);
  return content ? toNumber(content.value) : 0;
}
