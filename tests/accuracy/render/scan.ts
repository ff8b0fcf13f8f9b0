import { type Canvas, createCanvas } from "@napi-rs/canvas";
import { DEFAULT_BUDGETS } from "../../../worker/readers/budgets.js";
import { createMeter } from "../../../worker/readers/meter.js";
import { openPdf } from "../../../worker/readers/pdf/open-pdf.js";
import { drawPdf } from "../../worker/readers/pdf/draw-page.js";
import type { Random } from "../random.js";
import { renderChromium } from "./chromium.js";
import { renderPdfkit } from "./pdfkit.js";
import type { Area, Renderer } from "./rendered.js";

const POINTS_PER_INCH = 72;

/** A printed paper on a scanner's glass: rasterised, laid slightly askew, with grain, kept as JPEG; several pages in one PDF. */
export function scanAt(dpi: number): Renderer {
  return async (paper, random) => {
    const printed = await (random.chance(0.5) ? renderPdfkit : renderChromium)(paper, random);
    const degrees = random.next() * 4 - 2;
    const pages: ScannedSheet[] = [];
    const pdf = await openPdf(printed.bytes, createMeter(DEFAULT_BUDGETS));
    for (let number = 1; number <= pdf.numPages; number++) {
      const page = await pdf.getPage(number);
      const viewport = page.getViewport({ scale: dpi / POINTS_PER_INCH });
      const flat = blank(Math.ceil(viewport.width), Math.ceil(viewport.height));
      await page.render({ canvas: flat as never, canvasContext: flat.getContext("2d") as never, viewport }).promise;
      const scan = layAskew(flat, degrees, random);
      pages.push({ jpeg: await scan.encode("jpeg", random.between(75, 92)), width: scan.width, height: scan.height });
    }
    await pdf.loadingTask.destroy();
    const isPicture = pages.length === 1 && random.chance(0.7);
    const scale = isPicture ? POINTS_PER_INCH / dpi : 1;
    const first = pages[0]!;
    const middle = { x: (first.width * POINTS_PER_INCH) / dpi / 2, y: (first.height * POINTS_PER_INCH) / dpi / 2 };
    return {
      name: isPicture ? "paper.jpg" : "paper.pdf",
      bytes: isPicture ? first.jpeg : await bind(pages, dpi),
      spots: printed.spots,
      toPlane: (area) => turnBack(scaled(area, scale), -degrees, middle),
    };
  };
}

interface ScannedSheet {
  readonly jpeg: Buffer;
  readonly width: number;
  readonly height: number;
}

function blank(width: number, height: number): Canvas {
  const canvas = createCanvas(width, height);
  const pen = canvas.getContext("2d");
  pen.fillStyle = "white";
  pen.fillRect(0, 0, width, height);
  return canvas;
}

function layAskew(flat: Canvas, degrees: number, random: Random): Canvas {
  const scan = blank(flat.width, flat.height);
  const glass = scan.getContext("2d");
  glass.translate(scan.width / 2, scan.height / 2);
  glass.rotate((degrees * Math.PI) / 180);
  glass.drawImage(flat, -flat.width / 2, -flat.height / 2);
  glass.setTransform(1, 0, 0, 1, 0, 0);
  const image = glass.getImageData(0, 0, scan.width, scan.height);
  addGrain(image.data, random);
  glass.putImageData(image, 0, 0);
  return scan;
}

function addGrain(data: Uint8ClampedArray, random: Random): void {
  const strength = random.between(4, 18);
  for (let at = 0; at < data.length; at += 4) {
    const grain = (random.next() - 0.5) * 2 * strength;
    for (let channel = 0; channel < 3; channel++) data[at + channel] = data[at + channel]! + grain;
  }
}

async function bind(pages: readonly ScannedSheet[], dpi: number): Promise<Buffer> {
  const size = ({ width, height }: ScannedSheet): [number, number] => [
    (width * POINTS_PER_INCH) / dpi,
    (height * POINTS_PER_INCH) / dpi,
  ];
  return drawPdf(
    (pdf) => {
      for (const [index, page] of pages.entries()) {
        const [width, height] = size(page);
        if (index > 0) pdf.addPage({ size: [width, height], margin: 0 });
        pdf.image(page.jpeg, 0, 0, { width, height });
      }
    },
    { size: size(pages[0]!), margin: 0 },
  );
}

function scaled({ page, left, top, right, bottom }: Area, scale: number): Area {
  return { page, left: left * scale, top: top * scale, right: right * scale, bottom: bottom * scale };
}

/** A box on the askew page, by its middle, on the straight one; its size is kept. */
function turnBack(area: Area, degrees: number, centre: { readonly x: number; readonly y: number }): Area {
  const radians = (degrees * Math.PI) / 180;
  const [x, y] = [(area.left + area.right) / 2 - centre.x, (area.top + area.bottom) / 2 - centre.y];
  const shiftX = x * Math.cos(radians) - y * Math.sin(radians) - x;
  const shiftY = x * Math.sin(radians) + y * Math.cos(radians) - y;
  return {
    page: area.page,
    left: area.left + shiftX,
    right: area.right + shiftX,
    top: area.top + shiftY,
    bottom: area.bottom + shiftY,
  };
}
