import type { DOCUMENT_TYPES } from "./requirement.js";

/** What an EN 10204:2004 inspection document promises. */
export interface DocumentType {
  readonly type: (typeof DOCUMENT_TYPES)[number];
  readonly hasResults: boolean;
  /** Specific: the results are those of the delivery itself. Otherwise they may come from other products of the same make. */
  readonly specificInspection: boolean;
  readonly validatedBy: string;
}

/** Seen in 4 sources; ISO 10474 is parallel. */
const DOCUMENT_TYPE_FACTS: readonly DocumentType[] = [
  { type: "2.1", hasResults: false, specificInspection: false, validatedBy: "manufacturer" },
  { type: "2.2", hasResults: true, specificInspection: false, validatedBy: "manufacturer" },
  {
    type: "3.1",
    hasResults: true,
    specificInspection: true,
    validatedBy: "manufacturer inspection representative independent of manufacturing",
  },
  {
    type: "3.2",
    hasResults: true,
    specificInspection: true,
    validatedBy: "manufacturer representative plus purchaser representative or official inspector",
  },
];

export function documentTypeFacts(type: string): DocumentType | undefined {
  return DOCUMENT_TYPE_FACTS.find((known) => known.type === type);
}
