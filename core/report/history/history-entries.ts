import { HEAT_NOT_STATED } from "../../certificate/heat-number.js";
import { isElement } from "../../quantity/quantity.js";
import type { ReportDocument, ReportHeat } from "../report.js";
import type { HistoryEntry } from "./history.js";

/** A heat of a stored report, with the report's documents to which its evidence points. */
export interface StoredHeat {
  readonly heat: ReportHeat;
  readonly documents: readonly ReportDocument[];
  readonly submission?: string;
  /** ISO date on which it was handed in. */
  readonly handedIn?: string;
}

/** Where no document names its issuer; heats under it may come from more than one mill. */
export const MILL_NOT_STATED = "issuer not stated";

/**
 * Undefined for a heat without a name, which has no history. `millOfUnnamed` is whose the documents are that name no issuer: a
 * letterhead without a label is not read as one, so whoever asks may know better.
 */
export function historyEntry(
  { heat, documents, submission, handedIn }: StoredHeat,
  millOfUnnamed: string = MILL_NOT_STATED,
): HistoryEntry | undefined {
  if (heat.heat.startsWith(HEAT_NOT_STATED)) return undefined;
  const document = millDocument(heat, documents);
  const date = document?.date ?? handedIn?.slice(0, 10);
  return {
    heat: heat.heat,
    mill: document?.issuer ?? millOfUnnamed,
    grades: heat.grades.map(({ name }) => name),
    readings: heat.readings,
    findings: heat.findings,
    ...(date !== undefined && { date }),
    ...(submission !== undefined && { submission }),
  };
}

/** A mill's certificate gives the analysis; a laboratory's record adds tests. So it is the document with the chemistry, if there is one. */
function millDocument({ readings }: ReportHeat, documents: readonly ReportDocument[]): ReportDocument | undefined {
  const inOrder = [...readings.filter(({ quantity }) => isElement(quantity)), ...readings];
  const issued = inOrder.find(({ evidence }) => documents[evidence.document]?.issuer !== undefined);
  return documents[(issued ?? readings[0])?.evidence.document ?? 0];
}
