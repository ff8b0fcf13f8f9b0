import { within } from "../within.js";

/** A probe gives up after 5 s; the answer must be there before, with its reason. */
const PROBE_MS = 3_000;

/** The check of a probe. Throws as it does, or when it has not ended in time: a store that keeps silent is not there. */
export async function answersProbe(check: Promise<unknown>, ms = PROBE_MS): Promise<void> {
  if (!(await within(ms, check))) throw new Error(`no answer within ${ms / 1_000} s`);
}
