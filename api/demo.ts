#!/usr/bin/env node
import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { handIn, type Outcome } from "./demo/hand-in.js";
import { readSamples, type Sample } from "./demo/samples.js";
import { differencesFrom, sayOutcome } from "./demo/say-outcome.js";
import { startWebhookReceiver, type WebhookReceiver } from "./demo/webhook-receiver.js";
import { type RunningService, startService } from "./main.js";

/**
 * The whole service as its users meet it, in one command: starts it on a fresh data folder, hands in the samples over
 * HTTP, is told by signed webhook, and says per heat what failed or stayed open and why. With --keep it goes on serving.
 */
async function demo(isKept: boolean): Promise<boolean> {
  const folder = await mkdtemp(join(tmpdir(), "heatgate-demo-"));
  const samples = await readSamples(fileURLToPath(new URL("../../samples/", import.meta.url)));
  const service = await whileSaying("Starting the service on a new data folder", () =>
    startService({
      HEATGATE_LOG_LEVEL: "error",
      PORT: "0",
      HEATGATE_DATA: join(folder, "data"),
      // The receiver of the demo runs on this machine.
      HEATGATE_WEBHOOK_ALLOW: "loopback",
    }),
  );
  const receiver = await startWebhookReceiver();
  say(`Heatgate serves at ${service.url}; handing in ${samples.length} samples, one after the other.`);

  const wrong = await handInAll(service, samples, receiver, join(folder, "reports"));
  receiver.close();
  say(
    wrong === 0
      ? "\nEvery sample came out as it must."
      : `\n${wrong} of ${samples.length} did not come out as they must.`,
  );

  if (!isKept) {
    await service.stop();
    return wrong === 0;
  }
  say(
    `\nServing on until Ctrl-C. Try:\n  curl -H "Authorization: Bearer ${service.firstKey}" ${service.url}/v1/submissions`,
  );
  await new Promise((resolve) => process.once("SIGINT", resolve).once("SIGTERM", resolve));
  await service.stop();
  return wrong === 0;
}

async function handInAll(
  service: RunningService,
  samples: readonly Sample[],
  receiver: WebhookReceiver,
  reportFolder: string,
): Promise<number> {
  await mkdir(reportFolder);
  const key = service.firstKey ?? "";
  const times: number[] = [];
  let wrong = 0;
  for (const sample of samples) {
    const outcome: Outcome = await whileSaying(`Waiting for ${sample.name}`, () =>
      handIn({ url: service.url, key }, sample, receiver),
    );
    const reportPath = join(reportFolder, `${sample.name}.html`);
    await writeFile(reportPath, outcome.html);
    say(sayOutcome(sample, outcome, reportPath));
    const { verdict, heats } = outcome.submission;
    if (differencesFrom(sample.expected, verdict, heats ?? []).length > 0) wrong++;
    times.push(outcome.milliseconds);
  }
  const middle = times.sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? 0;
  say(`\nFrom POST to verdict: ${Math.round(middle)} ms in the middle, ${Math.round(times.at(-1) ?? 0)} ms at most.`);
  return wrong;
}

/** Quick work stays quiet; whatever takes longer than a second says every second that it is still at it. */
async function whileSaying<T>(what: string, work: () => Promise<T>): Promise<T> {
  const started = performance.now();
  const timer = setInterval(() => {
    say(`${what} … ${Math.round((performance.now() - started) / 1_000)} s`);
  }, 1_000);
  try {
    return await work();
  } finally {
    clearInterval(timer);
  }
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

try {
  process.exitCode = (await demo(process.argv.includes("--keep"))) ? 0 : 1;
} catch (error) {
  process.stderr.write(`demo: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
