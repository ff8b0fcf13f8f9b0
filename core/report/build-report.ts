import type { Certificate } from "../certificate/certificate.js";
import { applyCorrections, type Corrections, correctionsOfUnread } from "../certificate/corrections.js";
import type { EarlierHeat } from "../certificate/earlier-reading.js";
import type { Doubt } from "../certificate/evidence.js";
import { HEAT_NOT_STATED } from "../certificate/heat-number.js";
import { joinHeats, normaliseHeatNumber } from "../certificate/join-heats.js";
import type { DocumentCertificate, JoinedHeat } from "../certificate/joined-heat.js";
import type { Library } from "../grades/grade.js";
import { formatDecimal } from "../quantity/decimal.js";
import type { ProductFacts } from "../requirement/product-facts.js";
import type { Requirement } from "../requirement/requirement.js";
import { acrossHeatsContradictions } from "../verdict/consistency/across-heats.js";
import { earlierContradictions } from "../verdict/consistency/earlier-heats.js";
import type { Outcome } from "../verdict/finding.js";
import { type JudgedHeat, judgeHeat, type StrayResults } from "../verdict/judge-heat.js";
import type { Judgement } from "../verdict/judgement.js";
import type { ResolvedGrade } from "../verdict/resolve-grades.js";
import { worstOutcome } from "../verdict/worst.js";
import { CAUTIONS } from "./cautions.js";
import type { Report, ReportDocument, ReportHeat } from "./report.js";
import { reportComputed, reportHints } from "./report-computed.js";
import { reportFinding } from "./report-finding.js";
import { reportReading } from "./report-reading.js";

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
    | {
        readonly kind: "problem";
        readonly code: string;
        readonly message: string;
        readonly advice?: string;
        /** What else is said of it. */
        readonly doubts?: readonly Doubt[];
      };
}

export interface ReportInput {
  readonly documents: readonly JudgedDocument[];
  /** The requirement with the SHA-256 of its canonical JSON; null: the certificate's own claims. */
  readonly requirement: { readonly value: Requirement; readonly digest: string } | null;
  readonly library: Library;
  /** What a named person confirmed or corrected after looking at the documents. */
  readonly corrections?: Corrections;
  /** What was handed in of the same heats before; the batch command knows of nothing. */
  readonly earlier?: readonly EarlierHeat[];
}

/** Joins the documents by heat, judges each heat, and writes the report: same inputs, same report. */
export function buildReport({
  documents: given,
  requirement,
  library,
  corrections,
  earlier = [],
}: ReportInput): Report {
  const documents = correctedDocuments(given, corrections);
  const read = documents.flatMap((document, index) =>
    document.content.kind === "certificate" ? [{ document: index, certificate: document.content.certificate }] : [],
  );
  const joined = joinHeats(read);
  const allDoubts = [...read.flatMap(({ certificate }) => certificate.doubts), ...joined.doubts];
  const strays = straysByDocument(read);
  const judged = joined.heats.map((heat) => ({
    heat,
    judged: judgeHeat({
      heat,
      certificates: read
        .filter(({ document }) => heat.documents.includes(document))
        .map(({ certificate }) => certificate),
      doubts: allDoubts.filter((doubt) => concerns(doubt, heat)),
      strays: [
        ...(heat.heat === HEAT_NOT_STATED ? [] : heat.documents.flatMap((document) => strays.get(document) ?? [])),
        ...(joined.relatives.get(heat.heat) ?? []).map(({ heat: of, readings }) => ({ of, readings })),
      ],
      requirement: requirement?.value ?? null,
      library,
    }),
  }));
  const across = acrossHeatsContradictions(
    judged.map(({ heat, judged: { evidence } }) => ({ heat: heat.heat, readings: evidence.readings })),
  );
  const issuerOf = (document: number) =>
    read.find((candidate) => candidate.document === document)?.certificate.issuer?.value;
  const heats = judged.map(({ heat, judged: result }) => {
    const before = earlier.find((candidate) => candidate.heat === normaliseHeatNumber(heat.heat))?.readings ?? [];
    const beyond = [
      ...(across.get(heat.heat) ?? []),
      ...earlierContradictions(result.evidence.readings, before, issuerOf),
    ];
    return reportHeat(heat, result, beyond, requirement?.value ?? null);
  });

  return {
    report: 1,
    verdict: submissionVerdict(heats, documents),
    requirement: requirement && { name: requirement.value.name, digest: requirement.digest },
    documents: documents.map((document, index) => reportDocument(document, index, joined.doubts)),
    heats,
    ...(corrections && {
      corrections: { by: corrections.by, date: corrections.date, items: corrections.items.length },
    }),
    library: usedGrades(judged.flatMap(({ judged: { grades } }) => grades)),
    cautions: CAUTIONS,
  };
}

/** The documents as a person corrected them. */
export function correctedDocuments(
  documents: readonly JudgedDocument[],
  corrections: Corrections | undefined,
): readonly JudgedDocument[] {
  return corrections ? documents.map((document, index) => corrected(document, index, corrections)) : documents;
}

function corrected(document: JudgedDocument, index: number, corrections: Corrections): JudgedDocument {
  if (document.content.kind === "problem") {
    const doubts = correctionsOfUnread(index, document.sha256, corrections);
    return { ...document, content: { ...document.content, doubts } };
  }
  const certificate = applyCorrections(document.content.certificate, index, document.sha256, corrections);
  return { ...document, content: { kind: "certificate", certificate } };
}

/** A document that could not be read may hold the very value that fails, so it keeps the submission from passing. */
function submissionVerdict(heats: readonly ReportHeat[], documents: readonly JudgedDocument[]): Outcome {
  const unread = documents.some(({ content }) => content.kind === "problem");
  return worstOutcome([...heats.map(({ verdict }) => verdict), ...(unread ? ["undetermined" as const] : [])]);
}

/** What stands under no heat, for each document where anything does. */
function straysByDocument(read: readonly DocumentCertificate[]): ReadonlyMap<number, StrayResults> {
  const strays = new Map<number, StrayResults>();
  for (const { document, certificate } of read) {
    const nameless = certificate.heats.filter(({ heat }) => heat.value === HEAT_NOT_STATED);
    if (nameless.length > 0) strays.set(document, { readings: nameless.flatMap(({ readings }) => readings) });
  }
  return strays;
}

function concerns(doubt: Doubt, heat: JoinedHeat): boolean {
  if (doubt.heat !== undefined) return normaliseHeatNumber(doubt.heat) === normaliseHeatNumber(heat.heat);
  return doubt.evidence !== undefined && heat.documents.includes(doubt.evidence.document);
}

function reportHeat(
  heat: JoinedHeat,
  judged: JudgedHeat,
  /** What only a look at other heats and other submissions shows. */
  beyond: readonly Judgement[],
  requirement: Requirement | null,
): ReportHeat {
  const { readings } = judged.evidence;
  const computed = reportComputed(readings);
  const hints = reportHints(readings, requirement);
  const judgements = [...judged.judgements, ...beyond];
  const product = reportProduct(judged.evidence.facts);
  return {
    heat: heat.heat,
    evidence: heat.evidence,
    verdict: worstOutcome(judgements.map(({ outcome }) => outcome)),
    grades: judged.grades.map(({ grade: { grade }, chosen }) => ({
      id: grade.id,
      standard: grade.standard,
      edition: grade.edition.name,
      name: grade.name,
      chosen,
    })),
    ...(Object.keys(product).length > 0 && { product }),
    readings: readings.map(reportReading),
    findings: judgements.map(reportFinding),
    ...(computed.length > 0 && { computed }),
    ...(hints.length > 0 && { hints }),
  };
}

function reportProduct({ form, thicknessMm, condition }: ProductFacts) {
  return {
    ...(form !== undefined && { form }),
    ...(thicknessMm && { thickness: `${formatDecimal(thicknessMm)} mm` }),
    ...(condition !== undefined && { condition }),
  };
}

function reportDocument(document: JudgedDocument, index: number, joinDoubts: readonly Doubt[]): ReportDocument {
  const { content } = document;
  const facts = {
    name: document.name,
    sha256: document.sha256,
    reader: document.reader,
    ...(document.pages !== undefined && { pages: document.pages }),
    ...(document.notes && document.notes.length > 0 && { notes: document.notes }),
  };
  if (content.kind === "problem") {
    const message = content.advice === undefined ? content.message : `${content.message} ${content.advice}`;
    return { ...facts, doubts: [{ code: content.code, message }, ...(content.doubts ?? [])] };
  }
  const { type, number, issuer, date, order, doubts, notes = [] } = content.certificate;
  return {
    ...facts,
    ...(notes.length > 0 && { notes: [...(document.notes ?? []), ...notes] }),
    ...(type && { type: type.value }),
    ...(number && { number: number.value }),
    ...(issuer && { issuer: issuer.value }),
    ...(date && { date: date.value }),
    ...(order && { order: order.value }),
    doubts: [...doubts, ...joinDoubts.filter((doubt) => doubt.evidence?.document === index)],
  };
}

function usedGrades(grades: readonly ResolvedGrade[]): Report["library"] {
  const used = new Map(grades.map(({ grade }) => [grade.grade.id, grade.digest]));
  return [...used].map(([id, digest]) => ({ id, digest })).sort((left, right) => (left.id < right.id ? -1 : 1));
}
