/** For `JSON.stringify`: the digits of a Decimal are the only big integers there are. */
export function digitsAsText(_name: string, value: unknown): unknown {
  return typeof value === "bigint" ? value.toString() : value;
}

/** For `JSON.parse`. */
export function digitsFromText(name: string, value: unknown): unknown {
  return name === "digits" && typeof value === "string" ? BigInt(value) : value;
}
