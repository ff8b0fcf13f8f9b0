/** A store that is down can report thousands of errors a second: the first is said, then one every `everyMs` with a count. */
export function sampled(say: (error: Error, unsaid: number) => void, everyMs: number): (error: Error) => void {
  let unsaid = 0;
  let silentUntil = 0;
  return (error) => {
    const now = performance.now();
    if (now < silentUntil) {
      unsaid++;
      return;
    }
    say(error, unsaid);
    unsaid = 0;
    silentUntil = now + everyMs;
  };
}
