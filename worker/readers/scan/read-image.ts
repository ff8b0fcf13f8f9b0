import { loadImage } from "@napi-rs/canvas";
import { buildPageTables } from "../layout/page-tables.js";
import { writeDrafts } from "../layout/write-drafts.js";
import type { Meter } from "../meter.js";
import type { PackedDocument } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { drawOnWhite, toGray } from "./gray-image.js";
import { type ImageSize, readImageSize } from "./image-size.js";
import { readScan } from "./read-scan.js";

/** Text recognition is at its best with capital letters some 30 pixels high. */
export const OCR_DPI = 300;
const MOST_ENLARGED = 3;
/** The long side of A4 and of letter size is near this; pictures seldom say their resolution. */
const PAGE_INCHES = 11.7;

/** A PNG or JPEG of one page. Boxes are in its own pixels. */
export async function readImage(bytes: Buffer, meter: Meter): Promise<PackedDocument> {
  const size = readImageSize(bytes);
  const { width, height } = size;
  if (width * height > meter.budgets.imagePixels) {
    throw new ReadFailure(
      "too-large",
      `The picture has ${width} x ${height} pixels; ${meter.budgets.imagePixels} are allowed.`,
    );
  }
  const dpi = resolutionOf(size);
  const times = Math.min(MOST_ENLARGED, OCR_DPI / dpi);
  meter.scannedPage();
  const picture = await decode(bytes);
  const gray = toGray(
    drawOnWhite(width * times, height * times, (context) => {
      context.imageSmoothingQuality = "high";
      context.drawImage(picture, 0, 0, width * times, height * times);
    }),
  );
  const scan = await readScan(gray, dpi * times, 1 / times);
  const tables = writeDrafts(buildPageTables(scan.words, scan.rules), 1, meter);
  if (tables.length === 0) throw new ReadFailure("no-text", "No writing was found in the picture.");
  return { reader: "image", pages: 1, tables, doubts: [], notes: [describeOcr(dpi, scan.skewDegrees)] };
}

export function describeOcr(dpi: number, skewDegrees: number, page?: number): string {
  const where = page === undefined ? "" : `page ${page}: `;
  const straightened = skewDegrees === 0 ? "" : `, straightened by ${Math.abs(skewDegrees).toFixed(2)}°`;
  return `${where}OCR at ${Math.round(dpi)} dpi${straightened}`;
}

/** As stated, where that is a page; else as if the picture showed a whole page. */
function resolutionOf({ width, height, dpi }: ImageSize): number {
  const long = Math.max(width, height);
  const isPage = dpi !== undefined && dpi >= 100 && long / dpi > 4 && long / dpi < 24;
  return isPage ? dpi : Math.min(600, Math.max(72, long / PAGE_INCHES));
}

async function decode(bytes: Buffer) {
  try {
    return await loadImage(bytes);
  } catch {
    throw new ReadFailure("damaged", "The picture cannot be unpacked.");
  }
}
