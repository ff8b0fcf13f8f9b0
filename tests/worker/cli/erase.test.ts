import { afterAll, beforeAll, expect, it } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { listAudit } from "../../../worker/store/audit.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { newSubmission, storeDocument } from "../../support/invented.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let [alone, shared, other]: string[] = [];

const open = () => openEmbedded(folder.path, "http://heatgate.example");

beforeAll(async () => {
  folder = await embeddedFolder();
  const stores = await open();
  const handIn = async (...texts: string[]) => {
    const documents = [];
    for (const text of texts) documents.push(await storeDocument(stores.documents, folder.path, text));
    return (await stores.records.createSubmission(newSubmission(documents, { owner: "yard" }))).id;
  };
  [alone, shared, other] = [await handIn("only here"), await handIn("here", "in both"), await handIn("in both")];
  await stores.close();
}, 60_000);
afterAll(() => folder.remove());

async function run(...args: string[]) {
  const terminal = capturedTerminal({ env: { HEATGATE_DATA: folder.path }, folder: folder.path });
  const code = await runCommand(args, terminal.terminal);
  return { code, out: terminal.stdout().toString("utf8"), err: terminal.stderr() };
}

const WHO = ["--person", "M. Aurland", "--reason", "Wrong customer.", "--reference", "DSR 2026-07"];

it("erases one submission with its bytes, says so in the audit trail, and leaves what others need", async () => {
  expect(await run("erase", alone!, ...WHO)).toMatchObject({
    code: 0,
    out: expect.stringMatching(/is erased.*: 1 documents\.\n$/),
  });
  expect(await run("erase", shared!, ...WHO)).toMatchObject({
    code: 0,
    out: expect.stringMatching(/2 documents, 1 of which other/),
  });
  expect(await run("audit", "verify")).toMatchObject({ code: 0, out: expect.stringContaining("yard: whole") });

  const stores = await open();
  expect(await stores.records.getSubmission(alone!)).toBeUndefined();
  expect(await stores.records.getErasure(alone!, "yard")).toMatchObject({
    person: "M. Aurland",
    keyName: "command line",
  });
  const { documents } = (await stores.records.getSubmission(other!))!;
  expect(Buffer.from(await stores.documents.get(documents[0]!.sha256)).toString()).toBe("in both");
  const gone = (await stores.records.getErasure(alone!))!.documents[0]!;
  await expect(stores.documents.get(gone)).rejects.toThrow();
  const told = (await listAudit(stores.pool, "yard", 0, 100)).filter(({ kind }) => kind === "submission.erased");
  expect(
    told.map(({ actor, subject, details }) => [actor, subject, details.reason, details.reference, details.key]),
  ).toEqual([alone, shared].map((id) => ["M. Aurland", id, "Wrong customer.", "DSR 2026-07", "command line"]));
  await stores.close();
}, 60_000);

it("says of what is not there whether it was erased, by whom and why", async () => {
  expect(await run("erase", alone!, ...WHO)).toMatchObject({
    code: 1,
    err: expect.stringMatching(/was erased on 20.* by M\. Aurland: Wrong customer\./),
  });
  expect(await run("erase", "T-204", ...WHO)).toMatchObject({ code: 1, err: "There is no submission T-204.\n" });
}, 60_000);

it.each([
  [["erase"], /say the id of one submission/],
  [["erase", "a", "b", ...WHO], /say the id of one submission/],
  [["erase", "a", "--reason", "Wrong."], /--person is missing/],
  [["erase", "a", "--person", "M. Aurland", "--reason", " "], /--reason is missing/],
  [["erase", "a", "--person", "M".repeat(121), "--reason", "x"], /--person has more than 120/],
])("%j is refused with a sentence, and nothing is opened", async (args, sentence) => {
  expect(await run(...args)).toMatchObject({ code: 2, err: expect.stringMatching(sentence) });
});
