import { existsSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { z } from "zod";
import { profileOf, readSettings } from "../config.js";
import { createLog } from "../log.js";
import { listAudit, listAuditOwners } from "../store/audit.js";
import type { AuditEntry, ChainHead } from "../store/audit-chain.js";
import { auditEntrySchema } from "../store/audit-entry-schema.js";
import { type WalkedChain, walkChain } from "../store/audit-walk.js";
import { openStores } from "../store/open-stores.js";
import { faceNamed } from "./face-option.js";
import { readJsonFile } from "./read-json-file.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

const PAGE = 1_000;

/** Shows that audit trails are whole and unchanged: from saved answers of GET /v1/audit, or in the store itself. */
export const audit: Command = {
  usage: `Usage: heatgate audit verify [page.json…] [--against heads.json] [--format text|json]

Without a file: every client's chain in the store that the settings name (while the service runs on a data folder,
nobody else may open it). With files: one client's entries as saved from GET /v1/audit, page after page, checked
without any store.

  -a, --against file   heads that were kept, as --format json printed them on an earlier day
  -f, --format name    text (default), or json: the heads, to be kept where nobody who can write to the store can

A chain by itself shows entries that were changed, taken out, put in or moved. It can not show that its last entries were
cut off, that all of a client's entries are gone, or that every entry was written anew with hashes that fit:
whoever can write to the database can do that. Held against heads kept elsewhere, all three come to light, up to the entry
of the head.

Exit codes: 0 every chain is whole, 1 one is not, or does not go on from its kept head, 2 usage or internal error.`,
  async run(args, terminal) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { against: { type: "string", short: "a" }, format: { type: "string", short: "f", default: "text" } },
    });
    const [action, ...files] = positionals;
    if (action !== "verify") throw new UsageError("say verify, and files or none");
    const face = faceNamed(FACES, values.format);
    const kept =
      values.against === undefined ? undefined : await readJsonFile("the heads", values.against, headsSchema, terminal);
    const heads = headsOf(kept?.chains ?? []);
    const chains = files.length > 0 ? [await walkFiles(files, heads, terminal)] : await walkStore(heads, terminal);
    await write(terminal.stdout, face(chains));
    return chains.some(({ fault }) => fault !== undefined) ? EXIT.fail : EXIT.pass;
  },
};

type Heads = ReadonlyMap<string, ChainHead>;

/** A chain that had no entry yet promises nothing. */
function headsOf(chains: z.output<typeof headsSchema>["chains"]): Heads {
  const begun = chains.filter(({ entries }) => entries > 0);
  return new Map(begun.map(({ client, entries, head }) => [client, { number: entries, hash: head }]));
}

const headsSchema = z.object({
  audit: z.literal(1),
  chains: z.array(z.object({ client: z.string(), entries: z.int().min(0), head: z.string().regex(/^[0-9a-f]{64}$/) })),
});

const pageSchema = z.union([z.array(auditEntrySchema), z.object({ items: z.array(auditEntrySchema) })]);

async function walkFiles(files: readonly string[], heads: Heads, terminal: Terminal): Promise<WalkedChain> {
  const pages: (readonly AuditEntry[])[] = [];
  for (const file of files) {
    const saved = await readJsonFile("the saved trail", file, pageSchema, terminal);
    pages.push(Array.isArray(saved) ? saved : saved.items);
  }
  const client = pages.flat()[0]?.owner;
  if (client === undefined) throw new UsageError(`${files.join(", ")}: no entries, so there is nothing to verify`);
  if (heads.size > 0 && !heads.has(client))
    throw new UsageError(`among the kept heads is none of ${nameOf({ client })}`);
  return await walkChain(client, pages, heads.get(client));
}

async function walkStore(heads: Heads, terminal: Terminal): Promise<readonly WalkedChain[]> {
  const settings = readSettings(terminal.env);
  // Opening it would make it, and a new store's trail is whole whatever was meant.
  if (profileOf(settings) === "embedded" && !existsSync(join(settings.HEATGATE_DATA, "records"))) {
    throw new UsageError(
      `the data folder ${settings.HEATGATE_DATA} has no records; name the right one with HEATGATE_DATA`,
    );
  }
  const stores = await openStores(settings, createLog("error"));
  try {
    const clients = [...new Set([...(await listAuditOwners(stores.pool)), ...heads.keys()])].sort();
    const chains: WalkedChain[] = [];
    for (const client of clients) {
      const pages = readPages((after) => listAudit(stores.pool, client, after, PAGE));
      chains.push(await walkChain(client, pages, heads.get(client)));
    }
    return chains;
  } finally {
    await stores.close();
  }
}

async function* readPages(list: (after: number) => Promise<readonly AuditEntry[]>) {
  let after = 0;
  for (;;) {
    const entries = await list(after);
    if (entries.length === 0) return;
    yield entries;
    after = entries.at(-1)!.number;
  }
}

const FACES: Readonly<Record<string, (chains: readonly WalkedChain[]) => string>> = {
  text: (chains) => chains.map((chain) => `${nameOf(chain)}: ${outcomeOf(chain)}\n`).join(""),
  json: (chains) =>
    `${JSON.stringify({
      audit: 1,
      chains: chains.map(({ client, from, head, fault }) => ({
        client,
        from,
        entries: head.number,
        head: head.hash,
        fault: fault ?? null,
      })),
    })}\n`,
};

/** Signing keys and heartbeats belong to the installation, not to a client. */
function nameOf({ client }: Pick<WalkedChain, "client">): string {
  return client === "" ? "(the service itself)" : client.replace(/\p{C}/gu, "\ufffd");
}

function outcomeOf({ from, head, fault }: WalkedChain): string {
  if (fault !== undefined) return `NOT whole: ${fault}`;
  const entries = from === 1 ? `${head.number} entries` : `from entry ${from} to ${head.number}`;
  return `whole, ${entries}, head ${head.hash}`;
}
