import { EVERY_OWNER, type Records } from "../../worker/store/records.js";
import type { Received } from "../support/receiver.js";

/**
 * What must be true whatever was broken in between: every accepted submission ended in one final state with one report
 * digest and one event; its receiver was told at least once, always the same; and nobody was told of anything else.
 */
export async function checkHistory(
  records: Records,
  accepted: readonly string[],
  received: readonly Received[],
): Promise<readonly string[]> {
  const faults: string[] = [];
  const events = new Map<string, { id: string; body: string }[]>();
  for (let after = 0, page = await records.listEvents(undefined, after, 500); page.length > 0; ) {
    // What is told of its heats besides is not its end.
    for (const { submission = "", ...event } of page)
      if (event.type.startsWith("submission.")) events.set(submission, [...(events.get(submission) ?? []), event]);
    after = page.at(-1)!.sequence;
    page = await records.listEvents(undefined, after, 500);
  }

  const told = new Map<string, Set<string>>();
  for (const { headers, body } of received) {
    const { submission } = JSON.parse(body).data;
    told.set(submission, (told.get(submission) ?? new Set()).add(`${headers["webhook-id"]} ${body}`));
  }

  for (const id of accepted) {
    const submission = await records.getSubmission(id);
    const report = await records.getReport(id, EVERY_OWNER);
    if (!submission) faults.push(`${id} was accepted and is lost`);
    else if (submission.state !== "done" && submission.state !== "failed")
      faults.push(`${id} is still ${submission.state}`);
    else if (submission.state === "done" && report?.digest !== submission.reportDigest)
      faults.push(`${id} has two digests`);
    const own = events.get(id) ?? [];
    if (own.length !== 1) faults.push(`${id} has ${own.length} events`);
    const expected = own[0] && `${own[0].id} ${own[0].body}`;
    const heard = told.get(id) ?? new Set();
    if (heard.size !== 1 || !heard.has(expected!))
      faults.push(`the receiver heard ${heard.size} different things of ${id}`);
  }
  for (const id of told.keys())
    if (!accepted.includes(id)) faults.push(`the receiver was told of ${id}, which nobody accepted`);
  return faults;
}
