import type { Content } from "../content.js";
import type { Part, Truth } from "../paper.js";
import type { Random } from "../random.js";

/** A way of laying results out; the random source settles what one layout of the family leaves open. */
export interface Family {
  readonly name: string;
  readonly draw: (
    content: Content,
    random: Random,
  ) => { readonly parts: readonly Part[]; readonly truth: readonly Truth[] };
}
