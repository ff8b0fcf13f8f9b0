/** Lets work through one at a time, in the order it came, whether or not the one before succeeded. */
export function createTurns(): <Result>(work: () => Promise<Result>) => Promise<Result> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const turn = last.then(work);
    last = turn.catch(() => {});
    return turn;
  };
}
