/** Runs a piece of work unless one is under way already: then it does nothing and answers undefined. */
export function createTurns(): <Result>(work: () => Promise<Result>) => Promise<Result> | undefined {
  let isTaken = false;
  return (work) => {
    if (isTaken) return undefined;
    isTaken = true;
    return work().finally(() => {
      isTaken = false;
    });
  };
}
