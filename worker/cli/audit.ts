import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { readSettings } from "../config.js";
import { createLog } from "../log.js";
import { listAudit, listAuditOwners } from "../store/audit.js";
import { type AuditEntry, type ChainHead, faultInChain } from "../store/audit-chain.js";
import { openStores } from "../store/open-stores.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

const PAGE = 1_000;

/** Shows that an audit trail is whole and unchanged: from a saved answer of GET /v1/audit, or in the store itself. */
export const audit: Command = {
  usage: `Usage: heatgate audit verify [file]

Without a file: every client's chain in the store that the settings name. With a file: entries saved from
GET /v1/audit, checked without any store. Prints the head of each chain; kept elsewhere, it shows later whether
the end of a chain was cut off. Exit code 1 when a chain does not hold together.`,
  async run(args, terminal) {
    const [action, file, ...rest] = args;
    if (action !== "verify" || rest.length > 0) throw new UsageError("say verify, and a file or none");
    return file === undefined
      ? await verifyStore(terminal)
      : await verifyFile(resolve(terminal.folder, file), terminal);
  },
};

async function verifyFile(path: string, terminal: Terminal): Promise<number> {
  const saved = JSON.parse(await readFile(path, "utf8")) as AuditEntry[] | { readonly items: AuditEntry[] };
  const entries = Array.isArray(saved) ? saved : saved.items;
  const first = entries[0];
  // A saved page may begin in the middle; what its first entry follows from is then taken as given.
  const head = first && first.number > 1 ? { number: first.number - 1, hash: first.previous } : undefined;
  return await tell(terminal, first?.owner ?? path, faultInChain(entries, head), entries.at(-1));
}

async function verifyStore(terminal: Terminal): Promise<number> {
  const stores = await openStores(readSettings(terminal.env), createLog("error"));
  try {
    let worst = 0;
    for (const owner of await listAuditOwners(stores.pool)) {
      let head: ChainHead | undefined;
      let fault: string | undefined;
      for (;;) {
        const entries = await listAudit(stores.pool, owner, head?.number ?? 0, PAGE);
        if (entries.length === 0) break;
        fault = faultInChain(entries, head);
        if (fault !== undefined) break;
        head = entries.at(-1);
      }
      worst = Math.max(worst, await tell(terminal, owner, fault, head));
    }
    return worst;
  } finally {
    await stores.close();
  }
}

async function tell(terminal: Terminal, owner: string, fault: string | undefined, head: ChainHead | undefined) {
  // Signing keys and heartbeats belong to the installation, not to a client.
  const name = owner === "" ? "(the service itself)" : owner;
  const outcome = fault ?? (head ? `whole, ${head.number} entries, head ${head.hash}` : "empty");
  await write(terminal.stdout, `${name}: ${outcome}\n`);
  return fault === undefined ? EXIT.pass : EXIT.fail;
}
