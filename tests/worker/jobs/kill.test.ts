import { expect, test } from "vitest";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { startChild } from "../../support/child.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { namingVerifier } from "../../support/invented.js";
import { startReceiver } from "../../support/receiver.js";
import { startTestWorker } from "../../support/running-worker.js";

test("killed in the middle of its work and started again, everything accepted is finished, and told, once", async () => {
  const folder = await embeddedFolder();
  const receiver = await startReceiver();
  const child = startChild("embedded-process.ts", [folder.path, "5", receiver.url]);
  const isId = (line: string) => line !== "working";
  const said = await child.until((lines) => lines.includes("working") && lines.filter(isId).length === 5);
  const accepted = said.filter(isId);

  await expect(openEmbedded(folder.path, "https://heatgate.example")).rejects.toThrow(/is in use/);
  await child.kill("SIGKILL");

  const stores = await openEmbedded(folder.path, "https://heatgate.example");
  const worker = await startTestWorker(stores, namingVerifier());
  for (const id of accepted) {
    expect(await stores.records.waitUntilFinal(id, 20_000)).toMatchObject({ id, state: "done" });
  }
  await receiver.waitFor(accepted.length);
  await worker.stop();

  const events = await stores.records.listEvents(undefined, 0, 100);
  expect(events.map(({ submission }) => submission).sort()).toEqual([...accepted].sort());
  const told = receiver.received.map(({ headers }) => headers["webhook-id"]);
  expect(told.sort()).toEqual(events.map(({ id }) => id).sort());
  await stores.close();
  await receiver.close();
  await folder.remove();
});
