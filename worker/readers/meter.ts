import type { PlacedDoubt } from "../../core/recogniser/cells.js";
import type { ReadBudgets } from "./budgets.js";
import { ReadFailure } from "./problem.js";

/** Counts what one document has cost so far and stops the reader when a budget is spent. */
export interface Meter {
  readonly budgets: ReadBudgets;
  inflated(bytes: number): void;
  row(): void;
  cell(text: string): void;
  /** A page that has to be read by text recognition begins. */
  scannedPage(): void;
}

export function createMeter(budgets: ReadBudgets, onScannedPage: () => void = () => {}): Meter {
  let inflatedBytes = 0;
  let rows = 0;
  let cells = 0;
  let characters = 0;
  let scannedPages = 0;
  return {
    budgets,
    inflated(bytes) {
      inflatedBytes += bytes;
      if (inflatedBytes > budgets.inflatedBytes) {
        throw new ReadFailure("too-large-inflated", `Unpacked it has more than ${budgets.inflatedBytes} bytes.`);
      }
    },
    row() {
      if (++rows > budgets.rows) throw new ReadFailure("too-many-rows", `It has more than ${budgets.rows} rows.`);
    },
    scannedPage() {
      if (++scannedPages > budgets.scannedPages) {
        throw new ReadFailure("too-many-pages", `More than ${budgets.scannedPages} of its pages are scans.`);
      }
      onScannedPage();
    },
    cell(text) {
      if (++cells > budgets.cells) throw new ReadFailure("too-many-cells", `It has more than ${budgets.cells} cells.`);
      characters += text.length;
      if (characters > budgets.characters) {
        throw new ReadFailure("too-large-inflated", `Its texts have more than ${budgets.characters} characters.`);
      }
    },
  };
}

/** Collects doubts up to the budget; beyond it one last doubt says how many more there were. */
export function createDoubtList(budgets: ReadBudgets): { add(doubt: PlacedDoubt): void; all(): PlacedDoubt[] } {
  const doubts: PlacedDoubt[] = [];
  let left = 0;
  return {
    add(doubt) {
      if (doubts.length < budgets.doubts) doubts.push(doubt);
      else left++;
    },
    all: () =>
      left === 0
        ? doubts
        : [...doubts, { code: "more-doubts", message: `${left} more doubts of this kind were not listed.` }],
  };
}
