/**
 * How much one document may cost. A budget counts what is really spent while reading, not what a file declares and not a
 * ratio: honest sheets of numbers compress beyond 200 : 1.
 */
export interface ReadBudgets {
  readonly fileBytes: number;
  /** Of one part of a workbook, and of all parts read, after inflating. */
  readonly partBytes: number;
  readonly inflatedBytes: number;
  readonly parts: number;
  readonly sheets: number;
  /** Of one document, over all its tables. */
  readonly rows: number;
  readonly cells: number;
  readonly merges: number;
  readonly sharedStrings: number;
  /** Characters of all texts kept. */
  readonly characters: number;
  readonly treeDepth: number;
  readonly treeNodes: number;
  readonly pages: number;
  /** Pages that have to be read by OCR. */
  readonly scannedPages: number;
  readonly pageMs: number;
  readonly imagePixels: number;
  /** Doubts of one reader kept one by one; the rest are counted. */
  readonly doubts: number;
  /** From handing the document to the child until its answer; then the child is killed. Each scanned page adds its own. */
  readonly wallMs: number;
  readonly scannedPageMs: number;
  /** From asking the child for pictures of one document's places until they are there. */
  readonly cropMs: number;
  readonly heapMiB: number;
  /** Resident memory of the child, where the system tells it (Linux); buffers and pictures do not count as heap. */
  readonly residentMiB: number;
  /** The encoded result on its way back. */
  readonly resultBytes: number;
}

const MIB = 1024 * 1024;

export const DEFAULT_BUDGETS: ReadBudgets = {
  fileBytes: 32 * MIB,
  partBytes: 128 * MIB,
  inflatedBytes: 256 * MIB,
  parts: 2_000,
  sheets: 200,
  rows: 250_000,
  cells: 2_000_000,
  merges: 50_000,
  sharedStrings: 1_000_000,
  characters: 64 * MIB,
  treeDepth: 64,
  treeNodes: 500_000,
  pages: 500,
  scannedPages: 60,
  pageMs: 20_000,
  imagePixels: 80_000_000,
  doubts: 200,
  wallMs: 60_000,
  scannedPageMs: 60_000,
  cropMs: 15_000,
  heapMiB: 512,
  residentMiB: 1_024,
  resultBytes: 192 * MIB,
};
