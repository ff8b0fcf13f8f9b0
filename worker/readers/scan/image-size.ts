import { ReadFailure } from "../problem.js";

export interface ImageSize {
  readonly width: number;
  readonly height: number;
  /** As the file states it, where it does. */
  readonly dpi?: number;
}

const METRES_PER_INCH = 0.0254;

/** Width and height from the file's head, so that a picture is only unpacked when it is known to fit. */
export function readImageSize(bytes: Buffer): ImageSize {
  const size = bytes[0] === 0x89 ? readPngSize(bytes) : readJpegSize(bytes);
  if (!size || size.width === 0 || size.height === 0)
    throw new ReadFailure("damaged", "The picture's head is damaged.");
  return size;
}

function readPngSize(bytes: Buffer): ImageSize | undefined {
  if (bytes.length < 33) return undefined;
  const physical = bytes.subarray(0, 4_096).indexOf("pHYs");
  const size = { width: bytes.readUInt32BE(16), height: bytes.readUInt32BE(20) };
  if (physical < 0 || physical + 13 > bytes.length || bytes[physical + 12] !== 1) return size;
  return { ...size, dpi: Math.round(bytes.readUInt32BE(physical + 4) * METRES_PER_INCH) };
}

/** Goes from marker to marker up to the frame header. */
function readJpegSize(bytes: Buffer): ImageSize | undefined {
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
