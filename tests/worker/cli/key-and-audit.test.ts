import { access, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { auditHash, CHAIN_START } from "../../../worker/store/audit-chain.js";
import { isKeyText } from "../../../worker/store/key-text.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
beforeAll(async () => {
  folder = await embeddedFolder();
}, 60_000);
afterAll(() => folder.remove());

async function run(...args: string[]) {
  const terminal = capturedTerminal({ env: { HEATGATE_DATA: folder.path }, folder: folder.path });
  const code = await runCommand(args, terminal.terminal);
  return { code, out: terminal.stdout().toString("utf8"), err: terminal.stderr() };
}

it("keys are made, listed and revoked, and the trail of it holds together", async () => {
  const made = await run(
    "key",
    "create",
    "--client",
    "yard",
    "--name",
    "ERP",
    "--scopes",
    "submit,read",
    "--expires",
    "2099-01-31",
  );
  expect(made.code).toBe(0);
  expect(isKeyText(made.out.trim())).toBe(true);

  const listed = await run("key", "list");
  expect(listed.out).toContain("yard  ERP  submit,read  expires 2099-01-31  never used");
  expect(listed.out).not.toContain(made.out.trim());

  const id = listed.out.split("  ")[0]!;
  expect((await run("key", "revoke", id)).code).toBe(0);
  expect((await run("key", "revoke", id)).code).toBe(1);
  const verified = await run("audit", "verify");
  expect(verified).toMatchObject({
    code: 0,
    out: expect.stringMatching(
      /^\(the service itself\): whole, 1 entries, head [0-9a-f]{64}\nyard: whole, 2 entries, head [0-9a-f]{64}\n$/,
    ),
  });
}, 60_000);

it.each([
  [["key", "create", "--client", "yard"], /create needs --client, --name and --scopes/],
  [["key", "create", "--client", "a", "--name", "b", "--scopes", "melt"], /melt: scopes are submit, read/],
  [["key", "create", "--client", "a", "--name", "b", "--scopes", "read", "--expires", "soon"], /write a date/],
  [["key", "revoke"], /say create, list, or revoke/],
  [["audit"], /say verify/],
])("%j is refused with a sentence", async (args, sentence) => {
  const { code, err } = await run(...args);
  expect(code).toBe(2);
  expect(err).toMatch(sentence);
});

it("a saved trail is checked without any store, and a changed one is found out", async () => {
  const first = {
    owner: "yard",
    number: 1,
    at: "2026-11-25T09:00:00.000Z",
    actor: "M. Aurland",
    kind: "heat.decided",
    subject: "a",
    details: { heat: "H1" },
    previous: CHAIN_START,
  } as const;
  const entry = { ...first, hash: auditHash(first) };
  await writeFile(join(folder.path, "whole.json"), JSON.stringify({ items: [entry], next: 1 }));
  await writeFile(
    join(folder.path, "changed.json"),
    JSON.stringify({ items: [{ ...entry, actor: "Other" }], next: 1 }),
  );
  expect(await run("audit", "verify", "whole.json")).toMatchObject({
    code: 0,
    out: expect.stringContaining("whole, 1 entries"),
  });
  expect(await run("audit", "verify", "changed.json")).toMatchObject({
    code: 1,
    out: "yard: NOT whole: entry 1 was changed after it was written\n",
  });
});

it.each([
  ["none", /the saved trail .* can't be read/],
  ["{", /is not JSON/],
  ['{"a":1}', /can't be used/],
  ["[1,null]", /can't be used/],
  ['{"items":[]}', /no entries, so there is nothing to verify/],
])("a file that holds no trail is refused with a sentence: %s", async (text, sentence) => {
  if (text !== "none") await writeFile(join(folder.path, "bad.json"), text);
  const { code, err } = await run("audit", "verify", text === "none" ? "none.json" : "bad.json");
  expect(code).toBe(2);
  expect(err).toMatch(sentence);
});

it("a data folder that is not there is not made, and not called whole", async () => {
  const terminal = capturedTerminal({ env: { HEATGATE_DATA: join(folder.path, "mistyped") } });
  expect(await runCommand(["audit", "verify"], terminal.terminal)).toBe(2);
  expect(terminal.stderr()).toMatch(/mistyped has no records/);
  await expect(access(join(folder.path, "mistyped"))).rejects.toThrow();
});
