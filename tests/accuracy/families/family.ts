import type { Content } from "../content.js";
import type { Part, Printing } from "../paper.js";
import type { Random } from "../random.js";

/** A way of laying results out; the random source settles what one layout of the family leaves open. */
export interface Family {
  readonly name: string;
  /** How many heats its papers are about; 1 to 3 where nothing is said. */
  readonly heats?: readonly [least: number, most: number];
  readonly draw: (content: Content, random: Random) => readonly Part[];
  /** Its papers say of themselves that they do not count yet. */
  readonly isReserved?: boolean;
  /** How its papers are printed, where it matters. */
  readonly printing?: (random: Random) => Printing;
}
