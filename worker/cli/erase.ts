import { parseArgs } from "node:util";
import { onOneLine } from "../../core/report/printable.js";
import { readSettings } from "../config.js";
import { removeBytes } from "../jobs/remove-bytes.js";
import { createLog } from "../log.js";
import { openStores } from "../store/open-stores.js";
import type { ErasureRequest } from "../store/records.js";
import { whoAndWhy } from "../store/stated-texts.js";
import type { Stores } from "../store/stores.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

const ACTOR = "command line";

/** What POST /v1/submissions/{id}/erasure does, for whoever has the store and no key. */
export const erase: Command = {
  usage: `Usage: heatgate erase <submission id> --person <name> --reason <text> [--reference <text>]

Erases a submission for good, finished or not, and with it those that correct it: documents, report, decisions,
events. What stays is who erased what, when and why, with the digests: in the audit trail, and at the submission's
address, which answers 410. Receivers hear submission.erased. Bytes that other submissions need stay for them.
There is no way back. Exit code 1 where there is nothing to erase.

Works on the store that the settings name (HEATGATE_DATA or DATABASE_URL). While the service runs on a data
folder, nobody else may open that folder: use POST /v1/submissions/{id}/erasure with an admin key instead.`,
  async run(args, terminal) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { person: { type: "string" }, reason: { type: "string" }, reference: { type: "string" } },
    });
    const [id, ...more] = positionals;
    if (id === undefined || more.length > 0) throw new UsageError("say the id of one submission");
    const asked = {
      person: textOf("person", values.person),
      reason: textOf("reason", values.reason),
      ...(values.reference && { reference: textOf("reference", values.reference) }),
      keyName: ACTOR,
    };
    const log = createLog("error");
    const stores = await openStores(readSettings(terminal.env), log);
    try {
      return await eraseOne({ ...stores, log }, id, asked, terminal);
    } finally {
      await stores.close();
    }
  },
};

async function eraseOne(
  stores: Stores & Parameters<typeof removeBytes>[0],
  id: string,
  asked: ErasureRequest,
  { stdout, stderr }: Terminal,
): Promise<number> {
  const { records } = stores;
  const submission = await records.getSubmission(id);
  const erasure = submission?.owner === undefined ? undefined : await records.erase(id, submission.owner, asked);
  if (!erasure) {
    const earlier = await records.getErasure(id);
    const why = earlier
      ? `${id} was erased on ${earlier.erasedAt.toISOString()} by ${earlier.person}: ${earlier.reason}`
      : `There is no submission ${id}.`;
    await write(stderr, `${onOneLine(why)}\n`);
    return EXIT.fail;
  }
  const removed = await removeBytes(stores, erasure.documents);
  const kept = erasure.documents.length - removed;
  const bytes = kept === 0 ? "" : `, ${kept} of which other submissions need or the store has not let go yet`;
  await write(stdout, `${id} is erased, and what corrected it: ${erasure.documents.length} documents${bytes}.\n`);
  return EXIT.pass;
}

/** As the route takes it. */
function textOf(name: keyof typeof whoAndWhy, given = ""): string {
  const { data, error } = whoAndWhy[name].safeParse(given);
  if (data !== undefined) return data;
  const [fault] = error.issues;
  if (fault?.code === "too_small") throw new UsageError(`--${name} is missing: it is kept in the audit trail for good`);
  if (fault?.code === "too_big") throw new UsageError(`--${name} has more than ${fault.maximum} characters`);
  throw new UsageError(`--${name} ${fault?.message}`);
}
