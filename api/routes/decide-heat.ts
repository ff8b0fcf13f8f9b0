import type { Response } from "express";
import type { z } from "zod";
import type { Report } from "../../core/report/report.js";
import type { Decision } from "../../worker/store/decisions.js";
import type { AppDeps } from "../deps.js";
import { holderOf } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import type { newDecisionSchema } from "../requests/new-decision.js";
import { findSubmission } from "./submissions.js";

/** Writes down what a person decided about a heat, with the verdict and the report that they had before them. */
export async function decideHeat(
  { records, decisions }: AppDeps,
  submission: string,
  asked: z.output<typeof newDecisionSchema>,
  response: Response,
): Promise<Decision> {
  const record = await findSubmission(records, submission, response);
  const stored = await records.getReport(record.id, holderOf(response).client);
  const heat = stored && (JSON.parse(stored.json) as Report).heats.find(({ heat }) => heat === asked.heat);
  if (!stored || !heat) throw new Problem("heat-unknown", { detail: `The report has no heat ${asked.heat}.` });
  const { client, name } = holderOf(response);
  const { reference, ...rest } = asked;
  return await decisions.add({
    ...rest,
    ...(reference ? { reference } : {}),
    owner: client,
    submission: record.id,
    verdict: heat.verdict,
    reportDigest: stored.digest,
    keyName: name,
  });
}
