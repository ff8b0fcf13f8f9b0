import { expect, test } from "vitest";
import { makeCorpus, type Section } from "./corpus.js";
import { renderCsv } from "./render/csv.js";
import { renderPdfkit } from "./render/pdfkit.js";
import type { Renderer } from "./render/rendered.js";
import { renderWorkbook } from "./render/workbook.js";
import { addScores, NOTHING } from "./score.js";
import { scorePaper } from "./score-paper.js";

/** A fixed cut of the corpus: one paper of each family. `npm run accuracy` reads the rest of it, pages of browsers and scans. */
const CUT: readonly (readonly [section: Section, kind: string, render: Renderer, leastRight: number])[] = [
  ["development", "csv", renderCsv, 0.99],
  ["development", "xlsx", renderWorkbook, 0.99],
  ["development", "pdf", renderPdfkit, 0.99],
  ["held out", "csv", renderCsv, 0.99],
  ["held out", "xlsx", renderWorkbook, 0.99],
  ["held out", "pdf", renderPdfkit, 0.97],
  ["later", "csv", renderCsv, 0.99],
  ["later", "xlsx", renderWorkbook, 0.99],
  ["later", "pdf", renderPdfkit, 0.97],
];

test.each(CUT)("%s papers as %s: nothing silently wrong", async (section, _kind, render, leastRight) => {
  let total = NOTHING;
  for (const paper of makeCorpus(section, 1)) total = addScores(total, (await scorePaper(paper, render)).score);
  expect(total.silentlyWrong).toEqual([]);
  expect(total.right / total.expected).toBeGreaterThanOrEqual(leastRight);
});
