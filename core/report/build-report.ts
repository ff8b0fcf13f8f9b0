import type { Certificate } from "../certificate/certificate.js";
import type { Library } from "../grades/grade.js";
import type { Requirement } from "../requirement/requirement.js";

/** One document of the submission as the pipeline hands it to the judge: read, or not readable with the reason. */
export interface JudgedDocument {
  readonly name: string;
  /** SHA-256 of its bytes, lower-case hexadecimal. */
  readonly sha256: string;
  readonly reader: string;
  readonly pages?: number;
  readonly notes?: readonly string[];
  readonly content:
    | { readonly kind: "certificate"; readonly certificate: Certificate }
    | { readonly kind: "problem"; readonly code: string; readonly message: string; readonly advice?: string };
}

export interface ReportInput {
  readonly documents: readonly JudgedDocument[];
  /** The requirement with the SHA-256 of its canonical JSON; null: the certificate's own claims. */
  readonly requirement: { readonly value: Requirement; readonly digest: string } | null;
  readonly library: Library;
}
