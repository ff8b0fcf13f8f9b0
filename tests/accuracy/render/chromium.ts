import { type Browser, chromium } from "playwright-core";
import { DEFAULT_BUDGETS } from "../../../worker/readers/budgets.js";
import { createMeter } from "../../../worker/readers/meter.js";
import { openPdf } from "../../../worker/readers/pdf/open-pdf.js";
import type { Cell, Paper, Table } from "../paper.js";
import type { Random } from "../random.js";
import type { Renderer, Spot } from "./rendered.js";

let browser: Promise<Browser> | undefined;

/** Ends the browser that the first paper started. */
export async function closeChromium(): Promise<void> {
  await (await browser)?.close();
  browser = undefined;
}

/**
 * As office programs and web reports print: HTML laid out and broken into pages by Chromium. Each cell is a link to its own
 * number; the printed PDF keeps the links' places, which tells where every cell came to stand. Readers never look at links.
 */
export const renderChromium: Renderer = async (paper, random) => {
  const cells: { readonly cell: Cell; readonly table: number }[] = [];
  const html = htmlOf(paper, random, cells);
  browser ??= chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
  const page = await (await browser).newPage();
  try {
    await page.setContent(html);
    const bytes = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    return { name: "paper.pdf", bytes, spots: await findSpots(bytes, cells) };
  } finally {
    await page.close();
  }
};

const LINK = "https://cell.invalid/";

async function findSpots(
  bytes: Buffer,
  cells: readonly { readonly cell: Cell; readonly table: number }[],
): Promise<Spot[]> {
  const pdf = await openPdf(bytes, createMeter(DEFAULT_BUDGETS));
  const spots: Spot[] = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const viewport = page.getViewport({ scale: 1 });
    for (const { url, rect } of await page.getAnnotations()) {
      if (typeof url !== "string" || !url.startsWith(LINK)) continue;
      const [x1, y1, x2, y2] = viewport.convertToViewportRectangle(rect) as [number, number, number, number];
      const area = { left: Math.min(x1, x2), right: Math.max(x1, x2), top: Math.min(y1, y2), bottom: Math.max(y1, y2) };
      spots.push({ ...cells[Number(url.slice(LINK.length))]!, area: { page: number, ...area } });
    }
  }
  await pdf.loadingTask.destroy();
  return spots;
}

function htmlOf(paper: Paper, random: Random, cells: { cell: Cell; table: number }[]): string {
  let table = 0;
  const link = (cell: Cell) => {
    cells.push({ cell, table });
    const text = paper.printing?.narrow ? cell.text.replace(/\p{L}{9,}/gu, hyphenate) : cell.text;
    return `<a href="${LINK}${cells.length - 1}">${escapeHtml(text)}</a>`;
  };
  const body = paper.parts.map((part) => {
    table += 1;
    if (part.kind === "sheet") return `<h3>${escapeHtml(part.name)}</h3>`;
    if (part.kind === "page") return '<div class="page"></div>';
    if (part.kind === "text") return `<p>${link(part.cell)}</p>`;
    if (part.kind === "fields") {
      const lines = part.pairs.map(([label, value]) => `<tr><td>${link(label)}</td><td>${link(value)}</td></tr>`);
      return `<table class="fields">${lines.join("")}</table>`;
    }
    const tables = part.tables.map((one) => {
      table += 1;
      return htmlTable(one, link);
    });
    return tables.length > 1 ? `<div class="beside">${tables.join("")}</div>` : tables[0]!;
  });
  return `<!doctype html><meta charset="utf-8"><style>${styleOf(paper, random)}</style>${body.join("\n")}`;
}

function htmlTable(table: Table, link: (cell: Cell) => string): string {
  const row = (at: number) => {
    const cells = table.cells.filter((placed) => placed.row === at);
    const shown = cells.map(
      ({ cell }) => `<td colspan="${cell.columns}" rowspan="${cell.rows}">${cell.text === "" ? "" : link(cell)}</td>`,
    );
    return `<tr>${shown.join("")}</tr>`;
  };
  const rows = Array.from({ length: table.height }, (_, at) => row(at));
  const head = rows.slice(0, table.headRows).join("");
  // Browsers print a thead again on each page, and a tbody once.
  const tag = table.repeatsHead ? "thead" : "tbody";
  return `<table class="results"><${tag} class="head">${head}</${tag}><tbody>${rows.slice(table.headRows).join("")}</tbody></table>`;
}

function styleOf(paper: Paper, random: Random): string {
  const widest = Math.max(0, ...paper.parts.map((part) => (part.kind === "tables" ? lettersAcross(part.tables) : 0)));
  const page = widest > 120 ? "A3 landscape" : "A4";
  const { narrow, condensed, sideways, ruling, turnedTitles, narrowBody } = paper.printing ?? {};
  const lines = random.pick([
    "td { border: 1px solid #333; }",
    "tr { border-bottom: 1px solid #999; }",
    ".head td { border-bottom: 2px solid #000; } tbody tr:nth-child(even) { background: #eee; }",
    ".results td { border: 1px solid #bbb; } .head td { background: #ddd; }",
    ".results td { border-left: 1px solid #333; border-right: 1px solid #333; } .results { border: 1px solid #333; } .head { border-bottom: 1px solid #333; }",
  ]);
  return `
    @page { size: ${page}; margin: 14mm; }
    body { font: ${random.pick([7, 8, 9])}pt ${random.pick(["Liberation Sans", "DejaVu Sans", "Liberation Serif", "DejaVu Sans Mono", "Noto Sans"])}, sans-serif; }
    a { color: inherit; text-decoration: none; }
    h3 { font-size: 1.1em; margin: 6px 0; }
    p { margin: 6px 0 3px; }
    table { border-collapse: collapse; margin-bottom: 10px; ${random.chance(0.3) ? "width: 100%;" : ""} }
    td { padding: ${random.pick(["1px 4px", "2px 6px", "3px 8px"])}; }
    .results td { text-align: ${random.pick(["center", "left", "right"])}; }
    .fields td { border: 0; text-align: left; }
    .beside { display: flex; gap: 24px; align-items: flex-start; }
    ${ruling === "none" ? "" : lines}
    ${sideways ? "@page { page-orientation: rotate-left; }" : ""}
    ${narrow ? ".head td { max-width: 4.5em; font-size: 0.9em; }" : ""}
    ${turnedTitles ? ".head tr:last-child td { writing-mode: vertical-rl; transform: rotate(180deg); }" : ""}
    ${narrowBody ? ".results td { max-width: 9em; }" : ""}
    .page { break-before: page; }
    ${condensed ? 'body { font-family: "Nimbus Sans Narrow", "DejaVu Sans Condensed"; }' : ""}
    .fields, .fields tr, .fields td { border: 0; }
    ${random.chance(0.5) ? ".head td { font-weight: bold; }" : ""}`;
}

/** Long words may be broken after every third letter that a consonant follows; the browser draws a hyphen where it does. */
function hyphenate(word: string): string {
  return word.replace(/(\p{L}{3,}?[aeiouyäöüéèàí])(?=[bcdfghklmnprstvwz]\p{L}{2})/giu, "$1\u00ad");
}

/** Letters in the widest row: what decides whether a page stands or lies. */
function lettersAcross(tables: readonly Table[]): number {
  return tables.reduce((sum, { cells, height }) => {
    const rows = Array.from({ length: height }, (_, at) =>
      cells.filter(({ row }) => row === at).reduce((letters, { cell }) => letters + cell.text.length + 2, 0),
    );
    return sum + Math.max(0, ...rows);
  }, 0);
}

function escapeHtml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
