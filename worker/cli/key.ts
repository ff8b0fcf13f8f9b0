import { parseArgs } from "node:util";
import { onOneLine } from "../../core/report/printable.js";
import { readSettings } from "../config.js";
import { createLog } from "../log.js";
import { type KeyRecord, type Keys, SCOPES, type Scope } from "../store/keys.js";
import { openStores } from "../store/open-stores.js";
import { openKeys } from "../store/sql-keys.js";
import { keyNameText } from "../store/stated-texts.js";
import { type Command, type Terminal, UsageError, write } from "./terminal.js";

const ACTOR = "command line";

/** Keys for the API, made where the store is: without a key nobody could make one over the API. */
export const key: Command = {
  usage: `Usage: heatgate key create --client <name> --name <name> --scopes <scope,…> [--expires <date>]
       heatgate key list
       heatgate key revoke <id>

Scopes: ${SCOPES.join(", ")}. --expires 2027-01-31 ends at the first moment of that day, UTC. A client may have two live keys, so that one can take over from the other.
Works on the store that the settings name (HEATGATE_DATA or DATABASE_URL). While the service runs on a data
folder, nobody else may open that folder: use POST /v1/keys with an admin key instead.`,
  async run(args, terminal) {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        client: { type: "string" },
        name: { type: "string" },
        scopes: { type: "string" },
        expires: { type: "string" },
      },
    });
    const [action, id] = positionals;
    if (action === "list") return await withKeys(terminal, (keys) => list(keys, terminal));
    if (action === "revoke" && id) return await withKeys(terminal, (keys) => revoke(keys, id, terminal));
    if (action !== "create") throw new UsageError("say create, list, or revoke with an id");
    const { client, name, scopes, expires } = values;
    if (!client || !name || !scopes) throw new UsageError("create needs --client, --name and --scopes");
    const expiresAt = readDate(expires);
    const asked = {
      client: readName("client", client),
      name: readName("name", name),
      scopes: readScopes(scopes),
      ...(expiresAt && { expiresAt }),
    };
    return await withKeys(terminal, async (keys) => {
      const made = await keys.create(asked, ACTOR);
      await write(terminal.stderr, "This key is shown only once:\n");
      await write(terminal.stdout, `${made.key}\n`);
      return 0;
    });
  },
};

async function withKeys(terminal: Terminal, use: (keys: Keys) => Promise<number>): Promise<number> {
  const stores = await openStores(readSettings(terminal.env), createLog("error"));
  try {
    return await use(openKeys(stores.pool));
  } finally {
    await stores.close();
  }
}

async function list(keys: Keys, { stdout }: Terminal): Promise<number> {
  for (const record of await keys.list()) await write(stdout, `${lineOf(record)}\n`);
  return 0;
}

function lineOf({ id, begins, client, name, scopes, expiresAt, revokedAt, lastUsedAt }: KeyRecord): string {
  const ends = expiresAt && expiresAt <= new Date() ? "expired" : "expires";
  const state = revokedAt ? `revoked ${dayOf(revokedAt)}` : expiresAt ? `${ends} ${dayOf(expiresAt)}` : "live";
  const used = lastUsedAt ? `used ${dayOf(lastUsedAt)}` : "never used";
  return [id, `${begins}…`, onOneLine(client), onOneLine(name), scopes.join(","), state, used].join("  ");
}

async function revoke(keys: Keys, id: string, { stderr }: Terminal): Promise<number> {
  const isRevoked = await keys.revoke(id, ACTOR);
  await write(stderr, isRevoked ? `${id} is revoked.\n` : `There is no live key ${id}.\n`);
  return isRevoked ? 0 : 1;
}

function readScopes(text: string): readonly Scope[] {
  const scopes = text.split(",").map((scope) => scope.trim());
  const unknown = scopes.filter((scope) => !(SCOPES as readonly string[]).includes(scope));
  if (unknown.length > 0) throw new UsageError(`${unknown.join(", ")}: scopes are ${SCOPES.join(", ")}`);
  return [...new Set(scopes)] as Scope[];
}

/** As the route takes it. */
function readName(option: string, given: string): string {
  const { data, error } = keyNameText.safeParse(given);
  if (data === undefined) throw new UsageError(`--${option}: ${error.issues[0]?.message}`);
  return data;
}

function readDate(text: string | undefined): Date | undefined {
  if (text === undefined) return undefined;
  const date = new Date(text);
  if (Number.isNaN(date.getTime())) throw new UsageError(`--expires ${text}: write a date as 2027-01-31`);
  if (date <= new Date()) throw new UsageError(`--expires ${text} is past: the key would never work`);
  return date;
}

const dayOf = (date: Date) => date.toISOString().slice(0, 10);
