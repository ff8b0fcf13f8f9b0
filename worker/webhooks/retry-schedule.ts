const SECOND = 1_000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;

/** Waits between the ten tries of one event; together 75 hours and 35 minutes. */
export const RETRY_WAITS_MS: readonly number[] = [
  5 * SECOND,
  5 * MINUTE,
  30 * MINUTE,
  2 * HOUR,
  5 * HOUR,
  10 * HOUR,
  14 * HOUR,
  20 * HOUR,
  24 * HOUR,
];

/** Receivers that come back together would otherwise be met by all their missed events at the same second. */
const JITTER = 0.2;

/** A receiver may ask for more patience than planned, but not for less, and not for ever. */
const LONGEST_RETRY_AFTER_MS = 24 * HOUR;

/** How long to wait after this many tries, or undefined when they are used up. `chance` is between 0 and 1. */
export function nextWaitMs(triesMade: number, retryAfterMs: number | undefined, chance: number): number | undefined {
  const planned = RETRY_WAITS_MS[triesMade - 1];
  if (planned === undefined) return undefined;
  const wait = planned * (1 - JITTER + 2 * JITTER * chance);
  return Math.round(Math.max(wait, Math.min(retryAfterMs ?? 0, LONGEST_RETRY_AFTER_MS)));
}

/** Retry-After is seconds or an HTTP date (RFC 9110, 10.2.3). */
export function parseRetryAfter(text: string | undefined, now: Date): number | undefined {
  if (text === undefined) return undefined;
  if (/^\d{1,9}$/.test(text.trim())) return Number(text) * SECOND;
  // Date.parse alone would take "-5" for a year.
  const at = /^[A-Z][a-z]{2,8},? /.test(text) ? Date.parse(text) : Number.NaN;
  return Number.isNaN(at) ? undefined : Math.max(0, at - now.getTime());
}
