import type { Title } from "../title.js";

/**
 * What words in a title mean. Phrases are written plainly: lower case, no accents, single spaces, decimal points;
 * `plainWords` brings the paper's text into that form before it is looked up.
 */
export interface Entry {
  readonly means: Partial<Title>;
  readonly phrases: readonly string[];
}
