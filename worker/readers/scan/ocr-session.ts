import { createRequire } from "node:module";
import path from "node:path";
import { createWorker, OEM, PSM, type Worker } from "tesseract.js";
import { type GrayImage, toPortableGraymap } from "./gray-image.js";

export interface OcrWord {
  readonly text: string;
  /** 0 to 1. */
  readonly confidence: number;
  /** Left, top, right, bottom in pixels; the right and bottom edge are outside. */
  readonly box: readonly [number, number, number, number];
  /** Top and bottom of the line it stands in. */
  readonly line: readonly [number, number];
}

export interface OcrSession {
  /** A picture of one line of writing, some 50 pixels high; boxes are in its pixels. */
  readLine(image: GrayImage): Promise<OcrWord[]>;
  /** A picture of one word. */
  readWord(image: GrayImage): Promise<OcrWord[]>;
}

/** Of a line of usual type that is 50 pixels high. */
const DPI = 300;

let session: Promise<OcrSession> | undefined;

/** One engine for the life of the process, started with the first scan. It reads its language data from the installed package. */
export function openOcr(): Promise<OcrSession> {
  session ??= startOcr();
  return session;
}

async function startOcr(): Promise<OcrSession> {
  const data = path.dirname(createRequire(import.meta.url).resolve("@tesseract.js-data/eng/package.json"));
  const options = { langPath: path.join(data, "4.0.0_best_int"), cacheMethod: "none" };
  // Dictionaries pull "0,034" and "H4471" towards English words.
  const worker = await createWorker("eng", OEM.LSTM_ONLY, options, { load_system_dawg: "0", load_freq_dawg: "0" });
  return {
    readLine: (image) => recognise(worker, image, PSM.SINGLE_LINE),
    readWord: (image) => recognise(worker, image, PSM.SINGLE_WORD),
  };
}

async function recognise(worker: Worker, image: GrayImage, mode: PSM): Promise<OcrWord[]> {
  await worker.setParameters({ tessedit_pageseg_mode: mode, user_defined_dpi: String(DPI) });
  const { data } = await worker.recognize(toPortableGraymap(image), {}, { blocks: true, text: false });
  return (data.blocks ?? []).flatMap(({ paragraphs }) =>
    paragraphs.flatMap(({ lines }) =>
      lines.flatMap(({ words, bbox: line }) =>
        words.map(({ text, confidence, bbox }): OcrWord => {
          return {
            text,
            confidence: confidence / 100,
            box: [bbox.x0, bbox.y0, bbox.x1, bbox.y1],
            line: [line.y0, line.y1],
          };
        }),
      ),
    ),
  );
}
