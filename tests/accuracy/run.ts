import { parseArgs } from "node:util";
import { makeCorpus, type Section } from "./corpus.js";
import { closeChromium, renderChromium } from "./render/chromium.js";
import { renderCsv } from "./render/csv.js";
import { renderPdfkit } from "./render/pdfkit.js";
import type { Renderer } from "./render/rendered.js";
import { scanAt } from "./render/scan.js";
import { renderWorkbook } from "./render/workbook.js";
import { addScores, NOTHING, type Score } from "./score.js";
import { type Outcome, scorePaper } from "./score-paper.js";

/**
 * Accuracy over a corpus of invented papers: `npm run accuracy`.
 *
 * --kind csv,scan200   only these kinds of document
 * --part "held out"    only this part of the corpus
 * --layouts 2          so many papers of each family (scans: 1)
 * --quick              two papers of each family, and no scans
 * --sight 1            other seeds: papers that nobody has seen
 * --family retests     only families whose name contains this
 * --worst              the layouts that lost most, with family and seed so that one can be drawn again
 */
const KINDS: Readonly<Record<string, Renderer>> = {
  csv: renderCsv,
  xlsx: renderWorkbook,
  pdfkit: renderPdfkit,
  chromium: renderChromium,
  scan150: scanAt(150),
  scan200: scanAt(200),
  scan300: scanAt(300),
};
const SECTIONS = ["development", "held out", "later", "practice"] as const satisfies readonly Section[];

async function main(): Promise<void> {
  const { values: flags } = parseArgs({
    options: {
      kind: { type: "string" },
      part: { type: "string" },
      layouts: { type: "string" },
      family: { type: "string" },
      sight: { type: "string", default: "0" },
      quick: { type: "boolean", default: false },
      worst: { type: "boolean", default: false },
    },
  });
  const isScan = (kind: string) => kind.startsWith("scan");
  const kinds = flags.kind?.split(",") ?? Object.keys(KINDS).filter((kind) => !flags.quick || !isScan(kind));
  const layouts = Number(flags.layouts ?? (flags.quick ? 2 : 4));
  const lines: string[] = [];
  const losses: { name: string; outcome: Outcome }[] = [];
  let silent = 0;
  for (const section of SECTIONS) {
    if (flags.part !== undefined && flags.part !== section) continue;
    for (const kind of kinds) {
      const papers = makeCorpus(
        section,
        isScan(kind) ? Number(flags.layouts ?? 1) : layouts,
        Number(flags.sight),
      ).filter(({ family }) => family.includes(flags.family ?? ""));
      let total = NOTHING;
      const heats = { named: 0, right: 0 };
      for (const paper of papers) {
        const outcome = await scorePaper(paper, KINDS[kind]!);
        const { score } = outcome;
        total = addScores(total, { ...score, silentlyWrong: [...score.silentlyWrong, ...outcome.heats.silentlyWrong] });
        heats.named += outcome.heats.named;
        heats.right += outcome.heats.right;
        if (score.right < score.expected || score.silentlyWrong.length + outcome.heats.silentlyWrong.length > 0) {
          losses.push({ name: `${section}, ${kind}, ${paper.family}, seed ${paper.seed}`, outcome });
        }
      }
      silent += total.silentlyWrong.length;
      lines.push(tableLine(section, kind, papers.length, total, heats));
    }
  }
  await closeChromium();
  console.log("| part | document | papers | values | right | doubted | missed | silently wrong | heat numbers right |");
  console.log("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
  console.log(lines.join("\n"));
  if (flags.worst) reportWorst(losses);
  // The OCR engine keeps the process alive.
  process.exit(silent > 0 ? 1 : 0);
}

function tableLine(
  section: string,
  kind: string,
  papers: number,
  { expected, right, doubted, missed, silentlyWrong }: Score,
  heats: { readonly named: number; readonly right: number },
): string {
  const share = (count: number) => `${((100 * count) / expected).toFixed(1)} %`;
  const parts = [section, kind, papers, expected, share(right), share(doubted), share(missed), silentlyWrong.length];
  return `| ${parts.join(" | ")} | ${heats.right} of ${heats.named} |`;
}

function reportWorst(losses: readonly { name: string; outcome: Outcome }[]): void {
  const lost = ({ score: { expected, right, silentlyWrong } }: Outcome) => expected - right + 10 * silentlyWrong.length;
  const worst = [...losses].sort((left, right) => lost(right.outcome) - lost(left.outcome)).slice(0, 40);
  for (const { name, outcome } of worst) {
    const { doubts, heats } = outcome;
    const score = { ...outcome.score, silentlyWrong: [...outcome.score.silentlyWrong, ...heats.silentlyWrong] };
    console.log(
      `\n${name}: ${score.right} of ${score.expected} right, ${score.doubted} doubted, ${score.missed} missed`,
    );
    for (const wrong of score.silentlyWrong.slice(0, 4)) console.log(`  silently wrong: ${wrong}`);
    if (score.silentlyWrong.length > 4) console.log(`  … ${score.silentlyWrong.length} in all`);
    for (const doubt of doubts.slice(0, 4)) console.log(`  doubt: ${doubt}`);
  }
}

await main();
