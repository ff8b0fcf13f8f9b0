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

const DAY_MS = 86_400_000;
/** So far may the clock of a process that makes ids be from the database's. `Records.check` throws before that. */
export const CLOCKS_APART_MS = DAY_MS / 2;

/**
 * Where ids begin and end of what the database says was made in this time, so that a list by date does not read all that is newer. Wider
 * than the time by a day on either side, since an id has the clock of the process that made it.
 */
export function idsMade(from: Date | undefined, before: Date | undefined): readonly [from: string, before: string] {
  return [
    from === undefined ? BEFORE_ALL_IDS : firstIdAt(from.getTime() - DAY_MS),
    before === undefined ? AFTER_ALL_IDS : firstIdAt(before.getTime() + DAY_MS),
  ];
}

const AFTER_ALL_IDS = "ffffffff-ffff-ffff-ffff-ffffffffffff";

function firstIdAt(ms: number): string {
  const digits = Math.min(Math.max(0, ms), 2 ** 48 - 1)
    .toString(16)
    .padStart(12, "0");
  return `${digits.slice(0, 8)}-${digits.slice(8)}-0000-0000-000000000000`;
}

export function isId(text: string): boolean {
  return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(text);
}
