import { ReadFailure } from "../problem.js";

const MOST_ENTRIES = 200;

/**
 * Follows the chain of a TIFF's directories and counts them, before the library does: it trusts every offset and follows a
 * chain that bites its own tail for ever.
 */
export function checkDirectories(bytes: Buffer, mostPages: number): void {
  const isLittle = bytes[0] === 0x49;
  const short = (at: number) => (isLittle ? bytes.readUInt16LE(at) : bytes.readUInt16BE(at));
  const long = (at: number) => (isLittle ? bytes.readUInt32LE(at) : bytes.readUInt32BE(at));
  const damaged = () => new ReadFailure("damaged", "The TIFF's directory is damaged.");
  if (bytes.length < 16) throw damaged();
  const seen = new Set<number>();
  for (let at = long(4); at !== 0; ) {
    if (at < 8 || at + 2 > bytes.length || seen.has(at)) throw damaged();
    if (seen.size >= mostPages) throw new ReadFailure("too-many-pages", `It has more than ${mostPages} pages.`);
    seen.add(at);
    const entries = short(at);
    const end = at + 2 + 12 * entries;
    if (entries === 0 || entries > MOST_ENTRIES || end + 4 > bytes.length) throw damaged();
    at = long(end);
  }
  if (seen.size === 0) throw damaged();
}
