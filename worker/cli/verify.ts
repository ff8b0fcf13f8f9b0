import { readFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { keySetSchema, verifyReport } from "../signatures/verify-report.js";
import { readJsonFile } from "./read-json-file.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

const KEY_FILE = "heatgate-keys.json";

/** Anyone with these three files can check a report, without us and without a network. */
export const verify: Command = {
  usage: `Usage: heatgate verify <report.json> [--signature file] [--keys file]

Shows that a report is the one that a Heatgate service issued. Works offline, on three files:

  <report.json>             from GET /v1/submissions/{id}/report
  -s, --signature file      from GET /v1/submissions/{id}/report/signature
                            (default: the report's name ending in .signature.json, beside it)
  -k, --keys file           the service's public keys, from GET /.well-known/jwks.json; no API key is needed
                            (default: ${KEY_FILE} beside the report)
  -h, --help                this text

The keys decide what is trusted: fetch them once, over https, from the service itself, and keep them.
Exit codes: 0 the report is as issued, 1 it is not, or cannot be shown to be, 2 usage error or a file is missing.`,
  async run(args, terminal) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { signature: { type: "string", short: "s" }, keys: { type: "string", short: "k" } },
    });
    const [report, ...others] = positionals;
    if (report === undefined || others.length > 0) throw new UsageError("name one report.");
    const signature = values.signature ?? `${report.replace(/\.json$/, "")}.signature.json`;
    const keys = values.keys ?? join(dirname(report), KEY_FILE);

    const keySet = await readJsonFile("the key file", keys, keySetSchema, terminal);
    const outcome = verifyReport(
      await readText("the report", report, terminal),
      await readText("the signature", signature, terminal),
      keySet,
    );
    const name = basename(report);
    if (!outcome.isGood) {
      await write(terminal.stdout, `${name}: NOT verified. ${outcome.why}\n`);
      return EXIT.fail;
    }
    await write(terminal.stdout, `${name}: verified. ${describe(outcome)}\n`);
    return EXIT.pass;
  },
};

async function readText(what: string, name: string, { folder }: Terminal): Promise<string> {
  try {
    return await readFile(resolve(folder, name), "utf8");
  } catch (error) {
    throw new UsageError(`${what} ${name} cannot be read: ${(error as Error).message}`);
  }
}

type Good = Extract<ReturnType<typeof verifyReport>, { isGood: true }>;

function describe({ keyId, digest, isRewritten, verdict }: Good): string {
  const says = verdict === undefined ? "" : `It says ${verdict}. `;
  const rewritten = isRewritten
    ? " The file was written anew since (spaces or order of members), and says the same."
    : "";
  return `${says}Signed with the key ${keyId}, SHA-256 ${digest}.${rewritten}`;
}
