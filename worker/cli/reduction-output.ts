import { mkdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { renderReductionHtml } from "../../core/report/reduction/reduction-html.js";
import type { ReductionInput, ReductionReport } from "../../core/report/reduction/reduction-report.js";
import { renderReductionText } from "../../core/report/reduction/reduction-text.js";
import type { ReduceOptions } from "./reduce-options.js";
import { type Terminal, UsageError, write } from "./terminal.js";
import { openWholeFile, writeWholeFile } from "./whole-file.js";

/** Where reductions go, one after the other, so that none is kept until the last is done. */
export interface ReductionOutput {
  take(report: ReductionReport, input: ReductionInput): Promise<void>;
  close(): Promise<void>;
  /** After something went wrong: half an output is none. Nothing happens after `close`. */
  discard(): Promise<void>;
}

export async function openReductionOutput(
  documents: number,
  { format, output }: Pick<ReduceOptions, "format" | "output">,
  terminal: Terminal,
): Promise<ReductionOutput> {
  const path = output === undefined ? undefined : resolve(terminal.folder, output);
  if (format === "html" && documents > 1) return pagesIn(path);
  const sink = await sinkTo(path, terminal);
  let isFirst = true;
  return {
    async take(report, input) {
      await sink.write(textOf(report, input, format, documents > 1, isFirst));
      isFirst = false;
    },
    close: sink.close,
    discard: sink.discard,
  };
}

function textOf(
  report: ReductionReport,
  input: ReductionInput,
  format: ReduceOptions["format"],
  isOneOfMany: boolean,
  isFirst: boolean,
): string {
  if (format === "html") return renderReductionHtml(report, input);
  if (format === "json") return `${JSON.stringify(report, undefined, isOneOfMany ? undefined : 2)}\n`;
  return isOneOfMany
    ? `${isFirst ? "" : "\n"}${report.document.name}\n${renderReductionText(report)}`
    : renderReductionText(report);
}

async function sinkTo(path: string | undefined, { stdout }: Terminal) {
  if (path !== undefined) return openWholeFile(path);
  return { write: (text: string) => write(stdout, text), close: async () => {}, discard: async () => {} };
}

async function pagesIn(folder: string | undefined): Promise<ReductionOutput> {
  if (folder === undefined) throw new UsageError("name a folder with --output for the pages of several documents.");
  await mkdir(folder, { recursive: true });
  const taken = new Set<string>();
  return {
    async take(report, input) {
      const name = freeName(report.document.name, taken);
      await writeWholeFile(join(folder, `${name}.html`), renderReductionHtml(report, input));
    },
    close: async () => {},
    discard: async () => {},
  };
}

/** Documents of one name carry their folder in it, which a file's name cannot. */
function freeName(document: string, taken: Set<string>): string {
  const plain = document.replace(/[^\p{L}\p{N}. _-]/gu, "-");
  let name = plain;
  for (let again = 2; taken.has(name); again++) name = `${plain} (${again})`;
  taken.add(name);
  return name;
}
