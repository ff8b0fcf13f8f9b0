import { crc32 } from "node:zlib";
import { ReadFailure } from "../problem.js";

export interface ImageSize {
  readonly width: number;
  readonly height: number;
  /** As the file states it, where it does. */
  readonly dpi?: number;
}

const METRES_PER_INCH = 0.0254;
const END_OF_JPEG = Buffer.from([0xff, 0xd9]);

/**
 * Width and height from the file's head, and that it is whole: half a picture is drawn without complaint, and a damaged one
 * brings the drawing library down.
 */
export function readImageSize(bytes: Buffer): ImageSize {
  const size = bytes[0] === 0x89 ? readPngSize(bytes) : readJpegSize(bytes);
  if (!size || size.width === 0 || size.height === 0) throw new ReadFailure("damaged", "The picture is damaged.");
  return size;
}

/** Goes from chunk to chunk, each with its length before it and its checksum after it. */
function readPngSize(bytes: Buffer): ImageSize | undefined {
  let size: ImageSize | undefined;
  let hasPixels = false;
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    const end = at + 12 + length;
    if (end > bytes.length) break;
    const name = bytes.toString("latin1", at + 4, at + 8);
    if (crc32(bytes.subarray(at + 4, end - 4)) !== bytes.readUInt32BE(end - 4)) return undefined;
    if (name === "IHDR" && length === 13)
      size = { width: bytes.readUInt32BE(at + 8), height: bytes.readUInt32BE(at + 12) };
    // Unit 1: pixels per metre.
    if (name === "pHYs" && length === 9 && bytes[at + 16] === 1 && size) {
      size = { ...size, dpi: Math.round(bytes.readUInt32BE(at + 8) * METRES_PER_INCH) };
    }
    hasPixels ||= name === "IDAT";
    if (name === "IEND") return hasPixels ? size : undefined;
    at = end;
  }
  throw new ReadFailure("truncated", "The file starts like a picture but its end is missing.");
}

/** Goes from marker to marker up to the frame header. */
function readJpegSize(bytes: Buffer): ImageSize | undefined {
  if (!bytes.subarray(-4_096).includes(END_OF_JPEG)) {
    throw new ReadFailure("truncated", "The file starts like a picture but its end is missing.");
  }
  let dpi: number | undefined;
  for (let at = 2; at + 9 < bytes.length; ) {
    if (bytes[at] !== 0xff) return undefined;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) {
      const size = { height: bytes.readUInt16BE(at + 5), width: bytes.readUInt16BE(at + 7) };
      return dpi ? { ...size, dpi } : size;
    }
    // JFIF: unit 1 is dots per inch, 2 per centimetre.
    if (marker === 0xe0 && at + 14 < bytes.length && bytes.toString("latin1", at + 4, at + 8) === "JFIF") {
      const density = bytes.readUInt16BE(at + 12);
      if (bytes[at + 11] === 1) dpi = density;
      if (bytes[at + 11] === 2) dpi = Math.round(density * 2.54);
    }
    at += 2 + bytes.readUInt16BE(at + 2);
  }
  return undefined;
}
