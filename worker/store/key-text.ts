import { createHash, randomBytes } from "node:crypto";
import { crc32 } from "node:zlib";

const PREFIX = "hg_live_";
const DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
const RANDOM_BYTES = 32;
const RANDOM_DIGITS = 43;
const CHECK_DIGITS = 6;

/**
 * A new key: a prefix that says whose it is wherever it turns up, 256 random bits, and a checksum by which a scanner of
 * source code, or a person who mistyped, knows a real key from a false one without asking anybody.
 */
export function newKeyText(): string {
  const random = inDigits(BigInt(`0x${randomBytes(RANDOM_BYTES).toString("hex")}`), RANDOM_DIGITS);
  return `${PREFIX}${random}${checksum(random)}`;
}

/** Written like a key, with a checksum that fits. */
export function isKeyText(text: string): boolean {
  const match = new RegExp(`^${PREFIX}([0-9A-Za-z]{${RANDOM_DIGITS}})([0-9A-Za-z]{${CHECK_DIGITS}})$`).exec(text);
  return match !== null && checksum(match[1]!) === match[2];
}

/** What is stored. A random key needs no slow hash: there is nothing to guess. */
export function hashKeyText(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

/** Enough for a person to tell keys apart, too little to use one. */
export function keyBegins(text: string): string {
  return text.slice(0, PREFIX.length + 4);
}

function checksum(random: string): string {
  return inDigits(BigInt(crc32(random)), CHECK_DIGITS);
}

function inDigits(value: bigint, length: number): string {
  let text = "";
  for (let rest = value; text.length < length; rest /= 62n) text = DIGITS[Number(rest % 62n)] + text;
  return text;
}
