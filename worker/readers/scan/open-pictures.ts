import { type Canvas, createCanvas, type Image, loadImage } from "@napi-rs/canvas";
import * as utifModule from "utif2";
import type { Meter } from "../meter.js";
import { ReadFailure } from "../problem.js";
import { readImageSize } from "./image-size.js";
import { checkDirectories } from "./tiff-directories.js";

// An old CommonJS module: what Node finds of it stands under `default`, what its types say does not.
const UTIF = (utifModule as unknown as { default?: typeof utifModule }).default ?? utifModule;

/** One page of an image file, not yet unpacked. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** As the file states it, where it does. */
  readonly dpi?: number;
  unpack(): Promise<Image | Canvas>;
}

/** The pages of a PNG, JPEG (one) or TIFF (one or more). None is unpacked before its size is known to be allowed. */
export function openPictures(bytes: Buffer, meter: Meter): Picture[] {
  const isTiff = bytes[0] === 0x49 || bytes[0] === 0x4d;
  const pictures = isTiff ? openTiff(bytes, meter) : [openSingle(bytes)];
  for (const { width, height } of pictures) {
    if (width * height <= meter.budgets.imagePixels) continue;
    const { imagePixels } = meter.budgets;
    throw new ReadFailure("too-large", `The picture has ${width} x ${height} pixels; ${imagePixels} are allowed.`);
  }
  return pictures;
}

function openSingle(bytes: Buffer): Picture {
  return { ...readImageSize(bytes), unpack: () => orDamaged(() => loadImage(bytes)) };
}

/** TIFF tags: 256 width, 257 height, 282 resolution, 296 its unit (2 inch, 3 centimetre). */
function openTiff(bytes: Buffer, meter: Meter): Picture[] {
  checkDirectories(bytes, meter.budgets.scannedPages);
  // The library wants the memory itself; a Buffer may be a window on a bigger piece of it.
  const memory = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer;
  const directories = decodeDirectories(memory).filter(
    (directory) => tag(directory, 256) > 0 && tag(directory, 257) > 0,
  );
  if (directories.length === 0) throw new ReadFailure("damaged", "The TIFF holds no picture.");
  return directories.map((directory) => {
    const dpi = Math.round(tag(directory, 282) * (tag(directory, 296) === 3 ? 2.54 : 1));
    return {
      width: tag(directory, 256),
      height: tag(directory, 257),
      ...(dpi > 0 ? { dpi } : {}),
      unpack: () => orDamaged(async () => unpackTiff(memory, directory)),
    };
  });
}

function decodeDirectories(memory: ArrayBuffer): utifModule.IFD[] {
  try {
    return UTIF.decode(memory);
  } catch {
    throw new ReadFailure("damaged", "The TIFF's directory is damaged.");
  }
}

function tag(directory: utifModule.IFD, number: number): number {
  const values = (directory as unknown as Record<string, ArrayLike<number> | undefined>)[`t${number}`];
  return Number(values?.[0] ?? 0);
}

function unpackTiff(memory: ArrayBuffer, directory: utifModule.IFD): Canvas {
  UTIF.decodeImage(memory, directory);
  const { width, height } = directory;
  const canvas = createCanvas(width, height);
  const context = canvas.getContext("2d");
  const picture = context.createImageData(width, height);
  picture.data.set(UTIF.toRGBA8(directory));
  context.putImageData(picture, 0, 0);
  return canvas;
}

async function orDamaged<T>(unpack: () => Promise<T>): Promise<T> {
  try {
    return await unpack();
  } catch {
    throw new ReadFailure("damaged", "The picture cannot be unpacked.");
  }
}
