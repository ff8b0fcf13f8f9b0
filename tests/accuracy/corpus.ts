import { inventContent } from "./content.js";
import { BLOCKS_AND_COLUMNS } from "./families/blocks-and-columns.js";
import type { Family } from "./families/family.js";
import { CHEMISTRY } from "./families/held-out/chemistry.js";
import { IMPACT } from "./families/held-out/impact.js";
import { PAGES } from "./families/held-out/pages.js";
import { TENSILE } from "./families/held-out/tensile.js";
import { LATER_CHEMISTRY } from "./families/later/chemistry.js";
import { LATER_MECHANICAL } from "./families/later/mechanical.js";
import { LATER_PAGES } from "./families/later/pages.js";
import { PRACTICE_CHEMISTRY } from "./families/practice/chemistry.js";
import { PRACTICE_MECHANICAL } from "./families/practice/mechanical.js";
import { PRACTICE_PAPERS } from "./families/practice/papers.js";
import { ROWS } from "./families/rows.js";
import type { Paper } from "./paper.js";
import { createRandom } from "./random.js";
import { FIRST_STYLES } from "./styles/first-styles.js";
import { FOURTH_STYLES } from "./styles/fourth-styles.js";
import { SECOND_STYLES } from "./styles/second-styles.js";
import { THIRD_STYLES } from "./styles/third-styles.js";

export type Section = "development" | "held out" | "later" | "practice";

/** The parts share neither layouts nor words nor contents. */
const SECTIONS = {
  development: { families: [...ROWS, ...BLOCKS_AND_COLUMNS], styles: FIRST_STYLES, firstSeed: 1000 },
  "held out": { families: [...CHEMISTRY, ...TENSILE, ...IMPACT, ...PAGES], styles: SECOND_STYLES, firstSeed: 77_000 },
  later: {
    families: [...LATER_CHEMISTRY, ...LATER_MECHANICAL, ...LATER_PAGES],
    styles: THIRD_STYLES,
    firstSeed: 5_000_000,
  },
  practice: {
    families: [...PRACTICE_CHEMISTRY, ...PRACTICE_MECHANICAL, ...PRACTICE_PAPERS],
    styles: FOURTH_STYLES,
    firstSeed: 9_000_000,
  },
} as const satisfies Record<Section, { families: readonly Family[]; styles: unknown; firstSeed: number }>;

/** @param sight draws the section's papers anew: another number, other seeds */
export function makeCorpus(section: Section, layoutsPerFamily: number, sight = 0): Paper[] {
  const { families, styles, firstSeed } = SECTIONS[section];
  return (families as readonly Family[]).flatMap((family, index) =>
    Array.from({ length: layoutsPerFamily }, (_, count): Paper => {
      const seed = firstSeed + 10_000 * sight + index * 100 + count;
      const random = createRandom(seed);
      const parts = family.draw(inventContent(random, styles, family.heats), random);
      return {
        family: family.name,
        seed,
        parts,
        ...(family.printing ? { printing: family.printing(random) } : {}),
        ...(family.isReserved ? { isReserved: true } : {}),
      };
    }),
  );
}
