/** Why a document could not be read at all. What could be read only in part is a doubt inside the document instead. */
export interface ReadProblem {
  readonly code: ReadProblemCode;
  /** What was found, in a plain sentence. */
  readonly message: string;
  /** What the sender can do about it. */
  readonly advice: string;
}

export type ReadProblemCode = keyof typeof ADVICE;

/** Thrown inside a reader, caught at its door and handed over as a `ReadProblem`. */
export class ReadFailure extends Error {
  readonly code: ReadProblemCode;

  constructor(code: ReadProblemCode, message: string) {
    super(message);
    this.name = "ReadFailure";
    this.code = code;
  }
}

export function readProblem(code: ReadProblemCode, message: string): ReadProblem {
  return { code, message, advice: ADVICE[code] };
}

const SPLIT = "Split the document, or leave out what is not test data, and send the parts.";

const ADVICE = {
  "empty-file": "Send the file again; it arrived without content.",
  "unsupported-type": "Send a PDF, an .xlsx workbook, CSV, JSON, XML, plain text, PNG, JPEG or TIFF.",
  "legacy-workbook": 'Open it in a spreadsheet program, choose "Save as", take .xlsx, and send that.',
  encrypted: "Save a copy without a password and send that.",
  truncated: "The end is missing: send the file again, from the original.",
  damaged: "Open the original, save it anew, and send that.",
  "document-type-refused": "Send XML without a <!DOCTYPE declaration.",
  "too-large": SPLIT,
  "too-large-inflated": "Save the workbook anew with only the sheets and rows that hold data, and send that.",
  "too-many-parts": SPLIT,
  "too-many-rows": SPLIT,
  "too-many-cells": SPLIT,
  "too-many-heats": SPLIT,
  "too-many-strings": SPLIT,
  "too-many-pages": SPLIT,
  "too-deep": "Send the data with less nesting; the certificate format needs only a few levels.",
  "timed-out": `Reading took longer than allowed. ${SPLIT}`,
  "out-of-memory": `Reading took more memory than allowed. ${SPLIT}`,
  "result-too-large": SPLIT,
  "reader-crashed": "Save the document anew or send it in another format; if it happens again, tell the operator.",
  "no-text": "Send the original document, or a sharper scan at 200 dpi or more.",
} as const;
