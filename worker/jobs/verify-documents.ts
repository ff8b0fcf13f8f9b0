import { createHash } from "node:crypto";
import canonicalize from "canonicalize";
import type { Certificate } from "../../core/certificate/certificate.js";
import type { Corrections } from "../../core/certificate/corrections.js";
import type { EarlierHeat } from "../../core/certificate/earlier-reading.js";
import type { Library } from "../../core/grades/grade.js";
import type { ReadDocument } from "../../core/recogniser/cells.js";
import type { JudgedDocument, ReportInput } from "../../core/report/build-report.js";
import type { Report } from "../../core/report/report.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import type { Outcome } from "../../core/verdict/finding.js";
import { readProblem } from "../readers/problem.js";
import type { DocumentHint, DocumentReader, ReadResult, RecogniseResult } from "../readers/read-document.js";
import type { RecognisedDocument } from "../readers/recognised-document.js";
import { withoutBrokenCharacters } from "../well-formed.js";

/** The parts that turn documents into a report. The service and the batch command hand in the same ones. */
export interface Verifier {
  /** Reads the document and, where that happens in the same place, recognises it. `position`: as for `recognise`. */
  read(path: string, hint: DocumentHint, position: number): Promise<ReadResult | RecogniseResult>;
  readonly crop: DocumentReader["crop"];
  /** What the document says. `position`: its place in the submission (from 0), for the evidence. */
  recognise(document: ReadDocument | RecognisedDocument, position: number): Certificate;
  buildReport(input: ReportInput): Report;
  readonly library: Library;
}

/** A document as handed in, with its bytes in a file. */
export interface GivenDocument {
  readonly name: string;
  readonly mediaType: string;
  readonly sha256: string;
  readonly path: string;
}

export interface VerifiedReport {
  /** Canonical JSON (RFC 8785): one report has one byte form, and so one digest. */
  readonly json: string;
  readonly digest: string;
  /** What the JSON says. */
  readonly report: Report;
  readonly verdict: Outcome;
  readonly heats: Readonly<Record<Outcome, number>>;
  /** Heat numbers, in the report's order. */
  readonly heatNumbers: readonly string[];
}

/** What documents are judged by, and what is known beside them. */
export interface Judging {
  readonly requirement: Requirement | null;
  readonly corrections?: Corrections | undefined;
  readonly earlier?: readonly EarlierHeat[];
}

/** Our own code failed on this input. It would again, so nobody should repeat the work. */
export class VerifierFault extends Error {
  override readonly name = "VerifierFault";
}

/**
 * From documents to report. What a document lacks or breaks is said in the report; only a missing file and our own faults
 * are thrown.
 */
export async function verifyDocuments(
  verifier: Verifier,
  documents: readonly GivenDocument[],
  requirement: Requirement | null,
  corrections?: Corrections,
): Promise<VerifiedReport> {
  return judgeDocuments(verifier, await readDocuments(verifier, documents), { requirement, corrections });
}

/** From documents that were read to the report. The same documents, judging and library give the same bytes. */
export function judgeDocuments(
  verifier: Verifier,
  documents: readonly JudgedDocument[],
  { requirement, corrections, earlier }: Judging,
): VerifiedReport {
  const built = orFault(() =>
    verifier.buildReport({
      documents,
      requirement: requirement && { value: requirement, digest: `sha256:${sha256(canonicalJson(requirement))}` },
      library: verifier.library,
      ...(corrections && { corrections }),
      ...(earlier && { earlier }),
    }),
  );
  const report = ofWholeCharacters(built);
  const json = canonicalJson(report);
  return {
    json,
    digest: sha256(json),
    report,
    verdict: report.verdict,
    heats: countHeats(report),
    heatNumbers: report.heats.map(({ heat }) => heat),
  };
}

/**
 * Judging happens in the process itself, a few milliseconds a heat: so many keep it from everything else for some fifteen seconds, which is
 * longer than a lock of the queue and short of what a supervisor takes for death.
 */
const HEATS_AT_ONCE = 5_000;

/** Every document read and recognised, or with the reason why it could not be. */
export async function readDocuments(
  verifier: Verifier,
  documents: readonly GivenDocument[],
): Promise<readonly JudgedDocument[]> {
  const read = await Promise.all(documents.map(async (document, position) => readOne(verifier, document, position)));
  let heats = 0;
  return read.map((document) => {
    const own = document.content.kind === "certificate" ? document.content.certificate.heats.length : 0;
    if (heats + own > HEATS_AT_ONCE) return unjudged(document, own);
    heats += own;
    return document;
  });
}

/** Instead of part of it: whoever reads the report must not take the heats that stand there for all. */
function unjudged({ name, sha256, reader }: JudgedDocument, heats: number): JudgedDocument {
  const message = `It has ${heats} heats, and a submission's documents together may have ${HEATS_AT_ONCE}.`;
  return { name, sha256, reader, content: { kind: "problem", ...readProblem("too-many-heats", message) } };
}

async function readOne(verifier: Verifier, given: GivenDocument, position: number): Promise<JudgedDocument> {
  const known = { name: given.name, sha256: given.sha256 };
  const result = await verifier.read(given.path, { name: given.name, mediaType: given.mediaType }, position);
  if (!result.ok) return { ...known, reader: "none", content: { kind: "problem", ...result.problem } };

  const { document } = result;
  return {
    ...known,
    reader: document.reader,
    ...(document.pages !== undefined && { pages: document.pages }),
    ...(document.notes && { notes: document.notes }),
    content: { kind: "certificate", certificate: orFault(() => verifier.recognise(document, position)) },
  };
}

function orFault<Result>(work: () => Result): Result {
  try {
    return work();
  } catch (cause) {
    throw new VerifierFault(cause instanceof Error ? cause.message : String(cause), { cause });
  }
}

function countHeats(report: Report): Readonly<Record<Outcome, number>> {
  const counts = { fail: 0, undetermined: 0, pass: 0, "not-applicable": 0 };
  for (const heat of report.heats) counts[heat.verdict]++;
  return counts;
}

/** Texts are cut to lengths in many places, sometimes in the middle of a pair. */
function ofWholeCharacters(report: Report): Report {
  const json = JSON.stringify(report);
  const whole = withoutBrokenCharacters(json);
  return whole === json ? report : JSON.parse(whole);
}

function canonicalJson(value: unknown): string {
  const json = canonicalize(value);
  if (json === undefined) throw new VerifierFault("The report cannot be written as JSON.");
  return json;
}

function sha256(text: string): string {
  return createHash("sha256").update(text, "utf8").digest("hex");
}
