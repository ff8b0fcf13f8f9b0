import { readCertificate } from "../../core/recogniser/read-certificate.js";
import { DEFAULT_BUDGETS } from "../../worker/readers/budgets.js";
import { createMeter } from "../../worker/readers/meter.js";
import { unpackDocument } from "../../worker/readers/packed-document.js";
import { readBytes } from "../../worker/readers/read-bytes.js";
import { makeCorpus, type Section } from "./corpus.js";
import type { Paper } from "./paper.js";
import { createRandom } from "./random.js";
import { type Renderer, renderCsv, renderPdf, renderWorkbook } from "./render.js";
import { renderScan } from "./render-scan.js";
import { addScores, NOTHING, type Score, scoreCertificate } from "./score.js";

/**
 * Accuracy over a corpus of invented papers: `npm run accuracy`. With --worst the layouts that lost most are listed with
 * family and seed, so that one can be drawn again; with --kind only one kind of document is read.
 */
const KINDS: Readonly<Record<string, Renderer>> = {
  csv: renderCsv,
  xlsx: renderWorkbook,
  pdf: renderPdf,
  scan: renderScan,
};
const LAYOUTS_PER_FAMILY = 6;
/** OCR takes seconds a page. */
const SCANNED_LAYOUTS_PER_FAMILY = 2;

async function main(flags: readonly string[]): Promise<void> {
  const wanted = flags.includes("--kind") ? flags[flags.indexOf("--kind") + 1] : undefined;
  const lines: string[] = [];
  const losses: { name: string; score: Score; doubts: readonly string[] }[] = [];
  let silent = 0;
  for (const section of ["development", "held out"] as const satisfies readonly Section[]) {
    for (const [kind, render] of Object.entries(KINDS)) {
      if (wanted !== undefined && wanted !== kind) continue;
      let total = NOTHING;
      for (const paper of makeCorpus(section, kind === "scan" ? SCANNED_LAYOUTS_PER_FAMILY : LAYOUTS_PER_FAMILY)) {
        const { score, doubts } = await scorePaper(paper, render);
        total = addScores(total, score);
        if (score.right < score.expected || score.silentlyWrong.length > 0) {
          losses.push({ name: `${section}, ${kind}, ${paper.family}, seed ${paper.seed}`, score, doubts });
        }
      }
      silent += total.silentlyWrong.length;
      lines.push(tableLine(section, kind, total));
    }
  }
  console.log(
    "| part | document | values | right | doubted | missed | silently wrong |\n| --- | --- | --- | --- | --- | --- | --- |",
  );
  console.log(lines.join("\n"));
  if (flags.includes("--worst")) reportWorst(losses);
  process.exitCode = silent > 0 ? 1 : 0;
}

async function scorePaper(paper: Paper, render: Renderer): Promise<{ score: Score; doubts: readonly string[] }> {
  const { name, bytes } = await render(paper, createRandom(paper.seed + 1));
  const packed = await readBytes(bytes, { name, mediaType: "application/octet-stream" }, createMeter(DEFAULT_BUDGETS));
  const certificate = readCertificate(unpackDocument(packed), 0);
  return {
    score: scoreCertificate(certificate, paper.truth),
    doubts: certificate.doubts.map(({ message }) => message),
  };
}

function tableLine(section: string, kind: string, { expected, right, doubted, missed, silentlyWrong }: Score): string {
  const share = (count: number) => `${((100 * count) / expected).toFixed(1)} %`;
  return `| ${section} | ${kind} | ${expected} | ${share(right)} | ${share(doubted)} | ${share(missed)} | ${silentlyWrong.length} |`;
}

function reportWorst(losses: readonly { name: string; score: Score; doubts: readonly string[] }[]): void {
  const lost = ({ expected, right, silentlyWrong }: Score) => expected - right + 10 * silentlyWrong.length;
  const worst = [...losses].sort((left, right) => lost(right.score) - lost(left.score)).slice(0, 12);
  for (const { name, score, doubts } of worst) {
    console.log(
      `\n${name}: ${score.right} of ${score.expected} right, ${score.doubted} doubted, ${score.missed} missed`,
    );
    for (const wrong of score.silentlyWrong.slice(0, 4)) console.log(`  silently wrong: ${wrong}`);
    for (const doubt of doubts.slice(0, 4)) console.log(`  doubt: ${doubt}`);
  }
}

await main(process.argv.slice(2));
