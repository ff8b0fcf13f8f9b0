import type { Canvas, Image } from "@napi-rs/canvas";
import type { Place } from "../../../core/certificate/evidence.js";
import { detectType } from "../detect-type.js";
import type { Meter } from "../meter.js";
import { openPdf } from "../pdf/open-pdf.js";
import { POINTS_PER_INCH, renderPage } from "../pdf/render-page.js";
import { drawOnWhite } from "./gray-image.js";
import { openPictures } from "./open-pictures.js";

type BoxPlace = Extract<Place, { page: number }>;

const CROP_DPI = 150;
/** The long side of A4 and of letter size is near this. */
const PAGE_INCHES = 11.7;
/** What stands round the value: its label and its neighbours, in inches. */
const MARGIN = { across: 0.6, down: 0.18 };
/** Enough for a value with its neighbours; a box as wide as the page is shown smaller. */
const MOST_ACROSS_PIXELS = 640;
const MOST_DOWN_PIXELS = 400;

/** A PNG of each place with a little of what stands round it; undefined for places that are on no page. */
export async function cropPictures(
  bytes: Buffer,
  places: readonly Place[],
  meter: Meter,
): Promise<(Buffer | undefined)[]> {
  const boxes = places.map((place) => ("page" in place ? place : undefined));
  switch (detectType(bytes)) {
    case "pdf":
      return cropPdf(bytes, boxes, meter);
    case "png":
    case "jpeg":
    case "tiff":
      return cropImage(bytes, boxes, meter);
    default:
      return places.map(() => undefined);
  }
}

async function cropPdf(bytes: Buffer, places: readonly (BoxPlace | undefined)[], meter: Meter) {
  const pdf = await openPdf(bytes, meter);
  const pictures: (Buffer | undefined)[] = places.map(() => undefined);
  try {
    for (const number of new Set(places.flatMap((place) => (place ? [place.page] : [])))) {
      if (number < 1 || number > pdf.numPages) continue;
      const page = await pdf.getPage(number);
      const { canvas, dpi } = await renderPage(page, CROP_DPI);
      places.forEach((place, index) => {
        if (place?.page === number) pictures[index] = crop(canvas, place.box, dpi / POINTS_PER_INCH, dpi);
      });
      page.cleanup();
    }
  } finally {
    await pdf.loadingTask.destroy();
  }
  return pictures;
}

async function cropImage(bytes: Buffer, places: readonly (BoxPlace | undefined)[], meter: Meter) {
  const pictures = openPictures(bytes, meter);
  const cut: (Buffer | undefined)[] = places.map(() => undefined);
  for (const [index, { width, height, dpi = CROP_DPI, unpack }] of pictures.entries()) {
    if (!places.some((place) => place?.page === index + 1)) continue;
    const unpacked = await unpack();
    // Pictures seldom state their resolution truly; a page is never wider than this.
    const likelyDpi = Math.max(dpi, Math.max(width, height) / PAGE_INCHES);
    places.forEach((place, at) => {
      if (place?.page === index + 1) cut[at] = crop(unpacked, place.box, 1, likelyDpi);
    });
  }
  return cut;
}

function crop(page: Canvas | Image, box: BoxPlace["box"], scale: number, dpi: number): Buffer | undefined {
  const [x, y, width, height] = box.map((side) => side * scale) as [number, number, number, number];
  const left = Math.max(0, Math.floor(x - MARGIN.across * dpi));
  const top = Math.max(0, Math.floor(y - MARGIN.down * dpi));
  const across = Math.min(page.width, Math.ceil(x + width + MARGIN.across * dpi)) - left;
  const down = Math.min(page.height, Math.ceil(y + height + MARGIN.down * dpi)) - top;
  if (!(across > 0 && down > 0)) return undefined;
  const shrunk = Math.min(1, CROP_DPI / dpi, MOST_ACROSS_PIXELS / across, MOST_DOWN_PIXELS / down);
  const part = drawOnWhite(across * shrunk, down * shrunk, (context) => {
    context.imageSmoothingQuality = "high";
    context.drawImage(page, left, top, across, down, 0, 0, across * shrunk, down * shrunk);
    context.strokeStyle = "#c00";
    context.lineWidth = 2;
    context.strokeRect((x - left) * shrunk - 3, (y - top) * shrunk - 3, width * shrunk + 6, height * shrunk + 6);
  });
  return part.toBuffer("image/png");
}
