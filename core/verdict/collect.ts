const NOTHING: readonly never[] = [];

/**
 * What is made of the items, without those of which nothing is. As `flatMap` or `filter`, for what runs for each limit of each heat:
 * mostly one item of fifteen answers, and a list that grows by itself keeps room for seventeen.
 */
export function collect<Item, Made>(items: readonly Item[], make: (item: Item) => Made | undefined): readonly Made[] {
  let made: Made[] | undefined;
  for (const item of items) {
    const one = make(item);
    if (one === undefined) continue;
    if (made === undefined) made = [one];
    else made.push(one);
  }
  return made ?? NOTHING;
}

/** The items that are wanted; see `collect`. */
export function select<Item>(items: readonly Item[], isWanted: (item: Item) => boolean): readonly Item[] {
  return collect(items, (item) => (isWanted(item) ? item : undefined));
}

/** One list of several, of which mostly all but a few are empty. */
export function joined<Item>(lists: readonly (readonly Item[])[]): readonly Item[] {
  const filled = select(lists, ({ length }) => length > 0);
  return filled.length > 1 ? filled.flat() : (filled[0] ?? NOTHING);
}
