/** The items that share a key, in the order in which the keys and the items come first. */
export function groupBy<T>(items: readonly T[], key: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const its = key(item);
    const group = groups.get(its);
    if (group) group.push(item);
    else groups.set(its, [item]);
  }
  return [...groups.values()];
}
