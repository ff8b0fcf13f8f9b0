/** Repeatable chance: the same seed draws the same corpus on every machine (mulberry32). */
export interface Random {
  /** 0 ≤ x < 1 */
  next(): number;
  /** A whole number between low and high, both included. */
  between(low: number, high: number): number;
  pick<T>(choices: readonly T[]): T;
  chance(probability: number): boolean;
}

export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const between = (low: number, high: number) => low + Math.floor(next() * (high - low + 1));
  return {
    next,
    between,
    pick: (choices) => choices[between(0, choices.length - 1)]!,
    chance: (probability) => next() < probability,
  };
}
