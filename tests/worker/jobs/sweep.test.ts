import { expect, test } from "vitest";
import { type SweepDeps, sweep } from "../../../worker/jobs/sweep.js";
import type { Job } from "../../../worker/queue/queue.js";

/** Two pages of submissions and one of deliveries, before a queue that keeps what it is given. */
function given(unfinished: number, queued: number) {
  const added: string[] = [];
  const asked: number[] = [];
  const page = (queue: Job["queue"], ...subjects: string[]) => subjects.map((subject) => ({ queue, subject }));
  const deps: SweepDeps = {
    async *unfinished(ms) {
      asked.push(ms);
      yield page("judge", "s1", "s2");
      yield page("judge", "s3");
    },
    async *overdueDeliveries(ms) {
      asked.push(ms);
      yield page("deliver", "e1");
    },
    addAgain: async (jobs) => void added.push(...jobs.map(({ subject }) => subject)),
    count: async () => ({ unfinished, queued }),
  };
  return { deps, added, asked };
}

test.each([
  ["the queue has fewer jobs than the records want", 3, 2, false, true, true],
  ["the queue has them all", 3, 3, false, false, false],
  ["the queue has more, of which some are done", 3, 9, false, false, false],
  ["nothing is taken on trust", 3, 3, true, true, false],
])("%s", async (_name, unfinished, queued, thorough, looksThrough, isMissingJobs) => {
  const { deps, added } = given(unfinished, queued);
  const found = await sweep(deps, 15_000, thorough);
  expect(added).toEqual(looksThrough ? ["s1", "s2", "s3", "e1"] : ["e1"]);
  expect(found).toEqual({ submissions: looksThrough ? 3 : 0, deliveries: 1, isMissingJobs });
});

test("a delivery counts as forgotten sooner than a submission, and at the start nothing is too fresh", async () => {
  const { deps, asked } = given(3, 0);
  await sweep(deps, 15_000, true);
  await sweep(deps, 0, true);
  expect(asked).toEqual([15_000, 5_000, 0, 0]);
});
