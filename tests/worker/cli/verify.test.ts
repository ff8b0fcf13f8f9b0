import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { newKeyPair, openPrivateKey, signText } from "../../../worker/store/signing/ed25519.js";
import { temporaryFolder } from "../../support/invented.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: Awaited<ReturnType<typeof temporaryFolder>>;
beforeAll(async () => {
  folder = await temporaryFolder();
  const { id, publicKey, privateKey } = newKeyPair();
  const report = '{"report":1,"verdict":"pass"}';
  const signature = signText(openPrivateKey(privateKey), report).toString("base64url");
  const files = {
    "h4471.json": report,
    "changed.json": report.replace("1", "2"),
    "h4471.signature.json": JSON.stringify({ algorithm: "Ed25519", keyId: id, signature, reportDigest: "" }),
    "heatgate-keys.json": JSON.stringify({
      keys: [{ kty: "OKP", crv: "Ed25519", kid: id, x: publicKey }],
      revoked: [],
    }),
    "certificate.json": '{"issuer":"Norrvik Steel"}',
  };
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder.path, name), text);
});
afterAll(() => folder.remove());

it.each([
  ["the files beside the report", ["h4471.json"], 0, /^h4471.json: verified. It says pass. Signed with the key/],
  [
    "a changed report",
    ["changed.json", "-s", "h4471.signature.json"],
    1,
    /^changed.json: NOT verified. The signature does not/,
  ],
  [
    "a file that is no signature",
    ["h4471.json", "-s", "certificate.json"],
    1,
    /NOT verified. The signature file holds no/,
  ],
  ["a signature that is missing", ["changed.json"], 2, /the signature changed.signature.json cannot be read/],
  ["keys that are none", ["h4471.json", "-k", "certificate.json"], 2, /the key file certificate.json/],
  ["no report", [], 2, /name one report/],
])("%s", async (_, args, exit, sentence) => {
  const terminal = capturedTerminal({ folder: folder.path });
  const code = await runCommand(["verify", ...args], terminal.terminal);
  expect(`${terminal.stdout().toString("utf8")}${terminal.stderr()}`).toMatch(sentence);
  expect(code).toBe(exit);
});
