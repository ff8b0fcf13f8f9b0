/**
 * The answer that is kept with its owner, worked out where there is none yet. The owner does not change, and the answer does not
 * outlive it; so it is the same as if it were worked out anew.
 */
export function keptWith<Owner extends object, T>(answers: WeakMap<Owner, T>, owner: Owner, workOut: () => T): T {
  const known = answers.get(owner);
  if (known !== undefined) return known;
  const answer = workOut();
  answers.set(owner, answer);
  return answer;
}

/** How many answers are kept for one owner: a submission has few kinds of product and few sets of claims. */
const MOST = 16;

/** Answers that the heats of a submission ask for over and over: several kept with one owner, each by a text that says the rest. */
export class Remembered<T extends object> {
  readonly #answers = new WeakMap<object, Map<string, T>>();

  get(owner: object, rest: string, workOut: () => T): T {
    const answers = keptWith(this.#answers, owner, () => new Map<string, T>());
    const known = answers.get(rest);
    if (known) return known;
    const answer = workOut();
    // Nothing grows with what is handed in.
    if (answers.size >= MOST) answers.clear();
    answers.set(rest, answer);
    return answer;
  }
}

/** Owns answers where there is no requirement. */
export const NO_REQUIREMENT: object = {};
