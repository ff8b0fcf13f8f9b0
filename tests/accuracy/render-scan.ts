import { createCanvas } from "@napi-rs/canvas";
import { DEFAULT_BUDGETS } from "../../worker/readers/budgets.js";
import { createMeter } from "../../worker/readers/meter.js";
import { openPdf } from "../../worker/readers/pdf/open-pdf.js";
import type { Random } from "./random.js";
import { type Renderer, renderPdf } from "./render.js";

const POINTS_PER_INCH = 72;

/** A printed page on a scanner's glass: rasterised, laid slightly askew, with grain, kept as JPEG. */
export const renderScan: Renderer = async (paper, random) => {
  const { bytes } = await renderPdf(paper, random);
  const dpi = random.pick([200, 200, 250, 300]);
  const pdf = await openPdf(bytes, createMeter(DEFAULT_BUDGETS));
  const page = await pdf.getPage(1);
  const viewport = page.getViewport({ scale: dpi / POINTS_PER_INCH });
  const flat = createCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
  const pen = flat.getContext("2d");
  pen.fillStyle = "white";
  pen.fillRect(0, 0, flat.width, flat.height);
  await page.render({ canvas: flat as never, canvasContext: pen as never, viewport }).promise;

  const scan = createCanvas(flat.width, flat.height);
  const glass = scan.getContext("2d");
  glass.fillStyle = "white";
  glass.fillRect(0, 0, scan.width, scan.height);
  glass.translate(scan.width / 2, scan.height / 2);
  glass.rotate(((random.next() * 4 - 2) * Math.PI) / 180);
  glass.drawImage(flat, -flat.width / 2, -flat.height / 2);
  addGrain(glass.getImageData(0, 0, scan.width, scan.height), random, (image) => {
    glass.setTransform(1, 0, 0, 1, 0, 0);
    glass.putImageData(image, 0, 0);
  });
  return { name: "paper.jpg", bytes: await scan.encode("jpeg", random.between(75, 92)) };
};

function addGrain<Image extends { readonly data: Uint8ClampedArray }>(
  image: Image,
  random: Random,
  put: (image: Image) => void,
): void {
  const strength = random.between(4, 18);
  const { data } = image;
  for (let at = 0; at < data.length; at += 4) {
    const grain = (random.next() - 0.5) * 2 * strength;
    for (let channel = 0; channel < 3; channel++) data[at + channel] = data[at + channel]! + grain;
  }
  put(image);
}
