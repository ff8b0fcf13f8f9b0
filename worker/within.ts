/** Whether `work` ended in time. It goes on in any case; only the waiting ends. */
export async function within(ms: number, work: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<false>((resolve) => {
    timer = setTimeout(() => resolve(false), ms);
  });
  try {
    return await Promise.race([work.then(() => true), late]);
  } finally {
    clearTimeout(timer);
  }
}

/** A probe gives up after 5 s; the answer must be there before, with its reason. */
const PROBE_MS = 3_000;

/** The check of a probe. Throws as it does, or when it has not ended in time: a store that keeps silent is not there. */
export async function answersProbe(check: Promise<unknown>, ms = PROBE_MS): Promise<void> {
  if (!(await within(ms, check))) throw new Error(`no answer within ${ms / 1_000} s`);
}
