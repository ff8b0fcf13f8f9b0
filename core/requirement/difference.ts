/** One place where two JSON values differ. `before` or `after` is absent where there is nothing at that place. */
export interface Difference {
  /** JSON Pointer, RFC 6901. */
  readonly pointer: string;
  readonly before?: unknown;
  readonly after?: unknown;
}

/** Where two JSON values differ, member by member, in the order of the first and then of what only the second has. */
export function differences(before: unknown, after: unknown, pointer = ""): readonly Difference[] {
  if (Object.is(before, after)) return [];
  if (!isContainer(before) || !isContainer(after) || Array.isArray(before) !== Array.isArray(after)) {
    return [{ pointer, ...(before === undefined ? {} : { before }), ...(after === undefined ? {} : { after }) }];
  }
  const members = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...members].flatMap((member) =>
    differences(valueAt(before, member), valueAt(after, member), `${pointer}/${escaped(member)}`),
  );
}

function valueAt(container: object, member: string): unknown {
  return Object.hasOwn(container, member) ? (container as Record<string, unknown>)[member] : undefined;
}

function isContainer(value: unknown): value is object {
  return typeof value === "object" && value !== null;
}

function escaped(member: string): string {
  return member.replaceAll("~", "~0").replaceAll("/", "~1");
}
