import type { Metrics } from "../metrics.js";
import type { DocumentStore, Records } from "../store/records.js";
import { inSpan, inSpanNow } from "../tracing/span.js";
import type { Verifier } from "./verify-documents.js";

interface JudgingParts {
  readonly verifier: Verifier;
  readonly documents: DocumentStore;
  readonly records: Records;
}

/** The parts of judging, each timed and traced as a stage of its own; what reports leave open is counted by reason. */
export function observeStages<Parts extends JudgingParts>(
  parts: Parts,
  { stageSeconds, doubts, undetermined }: Pick<Metrics, "stageSeconds" | "doubts" | "undetermined">,
): Parts {
  const { verifier, documents, records } = parts;
  const timed = async <Result>(stage: string, work: () => Promise<Result>): Promise<Result> => {
    const end = stageSeconds.startTimer({ stage });
    try {
      return await inSpan(stage, {}, work);
    } finally {
      end();
    }
  };
  const timedNow = <Result>(stage: string, work: () => Result): Result => {
    const end = stageSeconds.startTimer({ stage });
    try {
      return inSpanNow(stage, work);
    } finally {
      end();
    }
  };
  return {
    ...parts,
    documents: { ...documents, checkOut: (sha256) => timed("fetch", () => documents.checkOut(sha256)) },
    records: { ...records, finish: (id, result) => timed("store", () => records.finish(id, result)) },
    verifier: {
      ...verifier,
      read: (path, hint, position) => timed("read", () => verifier.read(path, hint, position)),
      recognise: (document, position) => timedNow("recognise", () => verifier.recognise(document, position)),
      buildReport: (input) => {
        const report = timedNow("judge", () => verifier.buildReport(input));
        for (const document of report.documents) for (const { code } of document.doubts) doubts.inc({ reason: code });
        for (const heat of report.heats)
          for (const { outcome, reason } of heat.findings)
            if (outcome === "undetermined") undetermined.inc({ reason: reason ?? "none" });
        return report;
      },
    },
  };
}
