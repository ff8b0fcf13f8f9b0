import { execFile } from "node:child_process";
import { mkdtemp, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { promisify } from "node:util";
import ExcelJS from "exceljs";
import { createReader } from "../../worker/readers/read-document.js";
import { drawCertificate } from "../worker/readers/pdf/draw-certificate.js";
import { drawPdf } from "../worker/readers/pdf/draw-page.js";
import { makeScan } from "../worker/readers/scan/make-scan.js";

/**
 * Time and memory of reading against the bare library on the same file, each in a process of its own on the built code, so
 * `npm run build` comes first. Run: node --import tsx tests/bench/readers.bench.ts
 */
const run = promisify(execFile);
const ROUNDS = 3;

const SUBJECTS = {
  "bare exceljs, streaming": `
    const { default: ExcelJS } = await import("exceljs");
    const reader = new ExcelJS.stream.xlsx.WorkbookReader(file, { sharedStrings: "cache", styles: "cache", worksheets: "emit" });
    for await (const sheet of reader) for await (const row of sheet) row.eachCell((cell) => { cells++; cell.value; });`,
  "bare pdfjs, text": `
    const { getDocument } = await import("pdfjs-dist/legacy/build/pdf.mjs");
    const pdf = await getDocument({ data: new Uint8Array(readFileSync(file)), verbosity: 0 }).promise;
    for (let number = 1; number <= pdf.numPages; number++) {
      const page = await pdf.getPage(number);
      cells += (await page.getTextContent()).items.length;
      page.cleanup();
    }`,
  "bare csv-parse": `
    const { parse } = await import("csv-parse/sync");
    for (const row of parse(readFileSync(file), { delimiter: ";" })) cells += row.length;`,
  heatgate: `
    const { readBytes } = await import("./dist/worker/readers/read-bytes.js");
    const { createMeter } = await import("./dist/worker/readers/meter.js");
    const { DEFAULT_BUDGETS } = await import("./dist/worker/readers/budgets.js");
    const { tables } = await readBytes(readFileSync(file), { name: "", mediaType: "" }, createMeter(DEFAULT_BUDGETS));
    for (const table of tables) cells += table.texts.length;`,
} as const;

const folder = await mkdtemp(path.join(tmpdir(), "heatgate-bench-"));
try {
  const workbook = await writeCurveWorkbook(path.join(folder, "curve.xlsx"), 200_000);
  const curve = path.join(folder, "curve.csv");
  await writeFile(
    curve,
    `Time;Strain;Load\n${Array.from({ length: 100_000 }, (_, row) => `${row / 10};0,0${row};1${row},5`).join("\n")}`,
  );
  const pages = path.join(folder, "pages.pdf");
  await writeFile(pages, await drawPages(500));
  const page = path.join(folder, "page.pdf");
  await writeFile(page, await drawPages(1));

  await compare("workbook of 200,000 rows x 4", workbook, "bare exceljs, streaming");
  await compare("curve of 100,000 lines", curve, "bare csv-parse");
  await compare("PDF of 500 pages", pages, "bare pdfjs, text");
  await compare("PDF of 1 page", page, "bare pdfjs, text");
  await measureWholeWay(workbook);
  await measureOcr();
} finally {
  await rm(folder, { recursive: true });
}

async function compare(name: string, file: string, bare: keyof typeof SUBJECTS): Promise<void> {
  const theirs = await best(bare, file);
  const ours = await best("heatgate", file);
  // By processor time, which other work on the machine disturbs less than the clock.
  const ratio = (ours.cpuMs / theirs.cpuMs).toFixed(2);
  console.log(`${name} (${Math.round((await stat(file)).size / 1024)} kB)`);
  console.log(
    `  ${bare}: ${Math.round(theirs.ms)} ms (${Math.round(theirs.cpuMs)} ms of processor), peak ${theirs.peakMiB} MiB`,
  );
  console.log(
    `  heatgate: ${Math.round(ours.ms)} ms (${Math.round(ours.cpuMs)} ms), peak ${ours.peakMiB} MiB, ratio ${ratio}, ${ours.cells} cells`,
  );
}

interface Measured {
  readonly ms: number;
  readonly cpuMs: number;
  readonly peakMiB: number;
  readonly cells: number;
}

async function best(subject: keyof typeof SUBJECTS, file: string): Promise<Measured> {
  const code = `
    import { readFileSync } from "node:fs";
    const file = process.argv[1];
    let cells = 0;
    const start = performance.now();
    const before = process.cpuUsage();
    ${SUBJECTS[subject]}
    const ms = performance.now() - start;
    const { user, system } = process.cpuUsage(before);
    console.log(JSON.stringify({ ms, cpuMs: (user + system) / 1000, cells, peakMiB: Math.round(process.resourceUsage().maxRSS / 1024) }));
    process.exit();`;
  const results: Measured[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const { stdout } = await run(process.execPath, ["--disable-proto=delete", "--input-type=module", "-e", code, file]);
    results.push(JSON.parse(stdout));
  }
  return results.sort((left, right) => left.cpuMs - right.cpuMs)[0]!;
}

/** What a service holds when it has read the biggest workbook: parent and child at their peaks. */
async function measureWholeWay(file: string): Promise<void> {
  const code = `
    import { readFileSync } from "node:fs";
    const { createReader } = await import("./dist/worker/readers/read-document.js");
    const reader = createReader({ children: 1 });
    const before = process.memoryUsage().rss;
    const start = performance.now();
    const reading = reader.read(process.argv[1], { name: "", mediaType: "" });
    let child = 0;
    const watch = setInterval(() => {
      for (const pid of readFileSync("/proc/self/task/" + process.pid + "/children", "latin1").trim().split(" "))
        child = Math.max(child, Number(/VmHWM:\\s+(\\d+)/.exec(readFileSync("/proc/" + pid + "/status", "latin1"))?.[1] ?? 0));
    }, 20);
    const result = await reading;
    const ms = performance.now() - start;
    clearInterval(watch);
    const MIB = 2 ** 20;
    console.log(JSON.stringify({ ms, ok: result.ok, child: child / 1024, before: before / MIB, peak: process.resourceUsage().maxRSS / 1024 }));
    await reader.close();
    process.exit();`;
  const { stdout } = await run(process.execPath, ["--input-type=module", "-e", code, file]);
  const { ms, child, before, peak } = JSON.parse(stdout) as Record<"ms" | "child" | "before" | "peak", number>;
  console.log(`workbook of 200,000 rows through the child: ${Math.round(ms)} ms`);
  console.log(`  child's peak ${Math.round(child)} MiB; parent from ${Math.round(before)} to ${Math.round(peak)} MiB`);
}

async function measureOcr(): Promise<void> {
  const scanner = { dpi: 200, skewDegrees: 0.7, noise: 15, jpegQuality: 75 };
  const scan = path.join(folder, "scan.jpg");
  await writeFile(scan, await makeScan(await drawPages(1), scanner));
  const reader = createReader({ children: 2 });
  const hint = { name: "scan.jpg", mediaType: "" };
  await Promise.all([reader.read(scan, hint), reader.read(scan, hint)]);
  const start = performance.now();
  const COUNT = 6;
  await Promise.all(Array.from({ length: COUNT }, () => reader.read(scan, hint)));
  const seconds = (performance.now() - start) / 1000;
  await reader.close();
  console.log(`OCR, full A4 certificate at 200 dpi, 2 children: ${(COUNT / seconds).toFixed(2)} pages a second`);
}

function drawPages(count: number): Promise<Buffer> {
  return drawPdf((pdf) => {
    for (let page = 0; page < count; page++) {
      if (page > 0) pdf.addPage();
      drawCertificate(pdf, "all");
    }
  });
}

async function writeCurveWorkbook(file: string, rows: number): Promise<string> {
  const writer = new ExcelJS.stream.xlsx.WorkbookWriter({ filename: file });
  const sheet = writer.addWorksheet("Curve");
  sheet.addRow(["Time s", "Extension mm", "Load kN", "Strain"]).commit();
  for (let row = 0; row < rows; row++) {
    sheet.addRow([row / 50, Math.sin(row) * 10, 12.5 + row / 1_000, row / 1_000_000]).commit();
  }
  await writer.commit();
  return file;
}
