import { ReadFailure } from "../problem.js";

export type TextEncoding = "UTF-8" | "UTF-16LE" | "UTF-16BE" | "Windows-1252";

export interface DecodedText {
  readonly text: string;
  readonly encoding: TextEncoding;
}

/**
 * UTF-8 where the bytes allow it, for hardly any other text does; then UTF-16 by mark or by its zero bytes; else Windows-1252,
 * which machine software of the western kind still writes.
 */
export function decodeText(bytes: Buffer): DecodedText {
  const decoded = decode(bytes);
  if (hasControls(decoded.text))
    throw new ReadFailure("unsupported-type", "The file is neither text nor a known format.");
  return decoded;
}

function decode(bytes: Buffer): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return decodeAs("UTF-16LE", bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return decodeAs("UTF-16BE", bytes);
  const zeros = countZeros(bytes.subarray(0, 4_096));
  if (zeros.odd > zeros.half * 0.7 && zeros.even === 0) return decodeAs("UTF-16LE", bytes);
  if (zeros.even > zeros.half * 0.7 && zeros.odd === 0) return decodeAs("UTF-16BE", bytes);
  return isUtf8(bytes) ? decodeAs("UTF-8", bytes) : decodeAs("Windows-1252", bytes);
}

function decodeAs(encoding: TextEncoding, bytes: Buffer): DecodedText {
  return { text: new TextDecoder(encoding).decode(bytes), encoding };
}

function isUtf8(bytes: Buffer): boolean {
  try {
    // As a stream, so that a character cut off by a sample's end is no error.
    new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}

function countZeros(sample: Buffer): { even: number; odd: number; half: number } {
  let even = 0;
  let odd = 0;
  sample.forEach((byte, index) => {
    if (byte === 0) index % 2 === 0 ? even++ : odd++;
  });
  return { even, odd, half: Math.max(1, sample.length / 2) };
}

function hasControls(text: string): boolean {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what tells data from text.
  return /[\u0000-\u0008\u000e-\u001a\u001c-\u001f]/.test(text);
}
