import type { StoredDocument } from "../../worker/store/records.js";

export interface ReceivedDocument extends StoredDocument {
  /** Where the bytes lie until the document store takes them over. */
  readonly path: string;
}

export interface Callback {
  readonly url: string;
  readonly secret: string;
  /** The sender gave none, so it was made here and is told once. */
  readonly isSecretNew: boolean;
}

/** A submission taken apart, checked, and not yet kept. */
export interface Received {
  readonly documents: readonly ReceivedDocument[];
  /** JSON, or the name of a stored requirement; not looked at yet. */
  readonly requirementText: string | undefined;
  readonly callback?: Callback;
  readonly tags: Readonly<Record<string, string>>;
}
