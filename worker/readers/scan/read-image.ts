import { buildPageTables } from "../layout/page-tables.js";
import { writeDrafts } from "../layout/write-drafts.js";
import type { Meter } from "../meter.js";
import type { PackedDocument, PackedTable } from "../packed-document.js";
import { ReadFailure } from "../problem.js";
import { drawOnWhite, type GrayImage, toGray } from "./gray-image.js";
import { openPictures, type Picture } from "./open-pictures.js";
import { readScan } from "./read-scan.js";

/** Text recognition is at its best with capital letters some 30 pixels high. */
export const OCR_DPI = 300;
const MOST_ENLARGED = 3;
/** The long side of A4 and of letter size is near this; pictures seldom say their resolution. */
const PAGE_INCHES = 11.7;

/** A PNG, JPEG or TIFF of one or more pages. Boxes are in its own pixels. */
export async function readImage(bytes: Buffer, meter: Meter): Promise<PackedDocument> {
  const pictures = openPictures(bytes, meter);
  const tables: PackedTable[] = [];
  const notes: string[] = [];
  for (const [index, picture] of pictures.entries()) {
    meter.scannedPage();
    const dpi = resolutionOf(picture);
    const times = Math.min(MOST_ENLARGED, OCR_DPI / dpi);
    const scan = await readScan(await drawGray(picture, times), dpi * times, 1 / times);
    tables.push(...writeDrafts(buildPageTables(scan.words, scan.rules), index + 1, meter));
    notes.push(describeOcr(dpi, scan.skewDegrees, pictures.length > 1 ? index + 1 : undefined));
  }
  if (tables.length === 0) throw new ReadFailure("no-text", "No writing was found in the picture.");
  return { reader: "image", pages: pictures.length, tables, doubts: [], notes };
}

async function drawGray({ width, height, unpack }: Picture, times: number): Promise<GrayImage> {
  const unpacked = await unpack();
  return toGray(
    drawOnWhite(width * times, height * times, (context) => {
      context.imageSmoothingQuality = "high";
      context.drawImage(unpacked, 0, 0, width * times, height * times);
    }),
  );
}

export function describeOcr(dpi: number, skewDegrees: number, page?: number): string {
  const where = page === undefined ? "" : `page ${page}: `;
  const straightened = skewDegrees === 0 ? "" : `, straightened by ${Math.abs(skewDegrees).toFixed(2)}°`;
  return `${where}OCR at ${Math.round(dpi)} dpi${straightened}`;
}

/** As stated, where that is a page; else as if the picture showed a whole page. */
function resolutionOf({ width, height, dpi }: Picture): number {
  const long = Math.max(width, height);
  const isPage = dpi !== undefined && dpi >= 100 && long / dpi > 4 && long / dpi < 24;
  return isPage ? dpi : Math.min(600, Math.max(72, long / PAGE_INCHES));
}
