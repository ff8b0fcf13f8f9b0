const LONGEST_WAIT_SECONDS = 25;

/**
 * Seconds that the sender is ready to wait (RFC 7240, `Prefer: wait=20`), at most 25 so that proxies between do not give up.
 * Preferences that are not known are passed over, as the RFC asks.
 */
export function preferWaitSeconds(prefer: string | undefined): number | undefined {
  for (const preference of (prefer ?? "").split(",")) {
    const match = /^\s*wait\s*=\s*"?(\d{1,6})"?\s*(;|$)/i.exec(preference);
    if (match) return Math.min(Number(match[1]), LONGEST_WAIT_SECONDS);
  }
  return undefined;
}
