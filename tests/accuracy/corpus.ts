import { inventContent } from "./content.js";
import { DEVELOPMENT } from "./families/development.js";
import type { Family } from "./families/family.js";
import { HELD_OUT } from "./families/held-out.js";
import type { Paper } from "./paper.js";
import { createRandom } from "./random.js";

export type Section = "development" | "held out";

const FAMILIES: Readonly<Record<Section, readonly Family[]>> = { development: DEVELOPMENT, "held out": HELD_OUT };
/** Seeds differ too: the held-out part shares neither layouts nor contents with the other. */
const FIRST_SEED: Readonly<Record<Section, number>> = { development: 1000, "held out": 77000 };

export function makeCorpus(section: Section, layoutsPerFamily: number): Paper[] {
  return FAMILIES[section].flatMap((family, index) =>
    Array.from({ length: layoutsPerFamily }, (_, count): Paper => {
      const seed = FIRST_SEED[section] + index * 100 + count;
      const random = createRandom(seed);
      return { family: family.name, seed, ...family.draw(inventContent(random), random) };
    }),
  );
}
