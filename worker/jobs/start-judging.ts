import type { RunningWork } from "../queue/queue.js";
import { findEarlierReadings } from "../store/earlier-readings.js";
import { findStarts } from "../store/progress.js";
import { finishTrial, interruptTrial, startTrial, trialOf } from "../store/trial-jobs.js";
import type { WorkerDeps } from "../worker-deps.js";
import { type JudgeDeps, judgeSubmission } from "./judge-submission.js";
import { observeJobs } from "./observe-jobs.js";
import { observeStages } from "./observe-stages.js";
import { performTrial, type TrialDeps } from "./perform-trial.js";
import { createTurns } from "./turns.js";

export function startJudging(deps: WorkerDeps, concurrency: number): RunningWork {
  const { log, metrics } = deps;
  const judgeDeps: JudgeDeps = {
    ...observeStages(deps, metrics),
    findStarts: (id) => findStarts(deps.pool, id),
    findEarlier: (id, heats) => findEarlierReadings(deps.pool, id, heats),
    alone: createTurns(),
  };
  const trialDeps = wireTrials(deps);
  return observeJobs(deps, "judge", concurrency, async (subject, context) => {
    const trial = trialOf(subject);
    if (trial !== undefined) {
      const outcome = await performTrial(trialDeps, trial);
      if (outcome.kind === "failed") log.warn({ trial, err: outcome.cause }, "trial failed");
      return undefined;
    }
    const id = subject;
    const started = performance.now();
    const outcome = await judgeSubmission(judgeDeps, id);
    if (outcome.kind === "put-off") return { later: outcome.waitMs };
    const line = { submission: id, waitedMs: context.waitedMs, durationMs: Math.round(performance.now() - started) };
    if (outcome.kind === "done") {
      const { verdict, heats, digest } = outcome.report;
      metrics.submissions.inc({ outcome: verdict });
      log.info({ ...line, verdict, heats, reportDigest: digest }, "submission judged");
    }
    if (outcome.kind === "failed") {
      metrics.submissions.inc({ outcome: outcome.code });
      // Somebody has to look: either a document ends our process or our own code is wrong.
      log.error({ ...line, code: outcome.code, err: outcome.cause }, "submission failed");
    }
    return undefined;
  });
}

function wireTrials({ pool, verifier }: WorkerDeps): TrialDeps {
  return {
    verifier,
    trials: {
      start: (id, startsAllowed) => startTrial(pool, id, startsAllowed),
      interrupt: (id) => interruptTrial(pool, id),
      finish: (id, answer) => finishTrial(pool, id, answer),
    },
  };
}
