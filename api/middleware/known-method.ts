/** For a label, which must not hold whatever a sender makes up. */
export function knownMethod(method: string): string {
  return KNOWN_METHODS.has(method) ? method : "_OTHER";
}

const KNOWN_METHODS = new Set(["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"]);
