import { randomBytes } from "node:crypto";

/** A UUID of version 7 (RFC 9562, 5.7): milliseconds first, chance after, so that later ones sort later. */
export function newId(now = Date.now()): string {
  const bytes = randomBytes(16);
  bytes.writeUIntBE(now, 0, 6);
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  return bytes.toString("hex").replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

/** Sorts before every id. */
export const BEFORE_ALL_IDS = "00000000-0000-0000-0000-000000000000";

export function isId(text: string): boolean {
  return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(text);
}
