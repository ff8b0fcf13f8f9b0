/** How many answers are kept for one owner: a submission has few kinds of product and few sets of claims. */
const MOST = 16;

/**
 * Answers that the heats of a submission ask for over and over. Each is kept with the object that it was worked out from, which does not
 * change and which it does not outlive, and by a text that says the rest; so it is the same as if it were worked out anew.
 */
export class Remembered<T extends object> {
  readonly #answers = new WeakMap<object, Map<string, T>>();

  get(owner: object, rest: string, workOut: () => T): T {
    const answers = this.#answers.get(owner) ?? new Map<string, T>();
    const known = answers.get(rest);
    if (known) return known;
    const answer = workOut();
    // Nothing grows with what is handed in.
    if (answers.size >= MOST) answers.clear();
    this.#answers.set(owner, answers.set(rest, answer));
    return answer;
  }
}

/** Owns answers where there is no requirement. */
export const NO_REQUIREMENT: object = {};
