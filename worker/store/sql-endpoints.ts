import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import { appendAudit } from "./audit.js";
import { listEndpointDeliveries } from "./deliveries.js";
import { disableEndpoint } from "./endpoint-health.js";
import { ENDPOINT_COLUMNS, type EndpointRow, readEndpointRow } from "./endpoint-row.js";
import { addSecret, readSignatures } from "./endpoint-secrets.js";
import {
  ENDPOINTS_OF_OWNER,
  type Endpoint,
  type EndpointChange,
  EndpointDisabled,
  type EndpointSettings,
  type Endpoints,
  type NewSecret,
  TooMany,
  type WithSecret,
} from "./endpoints.js";
import { isId, newId } from "./new-id.js";
import { lockEventOrder, recordEvent, tellQueue } from "./record-event.js";
import { BadCursor } from "./records.js";
import { replayEvents } from "./replay-events.js";
import type { Sealer } from "./signing/sealer.js";
import { inTransaction, type Queryable } from "./transaction.js";

interface Deps {
  readonly pool: pg.Pool;
  readonly queue: WorkQueue;
  readonly sealer: Sealer;
}

export function openEndpoints(deps: Deps): Endpoints {
  const { pool, queue } = deps;
  return {
    create: (owner, settings, secret, by) => create(deps, owner, settings, secret, by),
    list: (owner) => read(pool, "p.owner = $1 ORDER BY p.id", [owner]),
    get,
    update: (owner, id, change, by) => update(deps, owner, id, change, by),
    remove,
    rotateSecret: (owner, id, secret, oldEndAt, by) =>
      inTransaction(pool, async (client) => {
        if (!(await lockEndpoint(client, owner, id))) return undefined;
        const told = await addSecret(client, deps.sealer, id, secret, oldEndAt);
        const details = { kind: secret.kind, oldEndAt: oldEndAt.toISOString() };
        await appendAudit(client, { owner, actor: by, kind: "endpoint.secret-changed", subject: id, details });
        return { endpoint: (await readOne(client, owner, id))!, ...told };
      }),
    async sendTest(owner, id) {
      const told = await inTransaction(pool, async (client) => {
        if (!(await activeEndpoint(client, owner, id))) return undefined;
        await lockEventOrder(client);
        const data = { endpoint: id };
        return await recordEvent(client, queue, { owner, type: "endpoint.test", at: new Date(), data, endpoint: id });
      });
      if (told) await tellQueue(queue, told.jobs);
      return told?.id;
    },
    async replay(owner, id, since, onlyUndelivered) {
      const found = await inTransaction(pool, async (client) => {
        if (!(await activeEndpoint(client, owner, id))) return undefined;
        return await replayEvents(client, id, since, onlyUndelivered);
      });
      if (!found) return undefined;
      // However many there are, they are committed; what the queue does not take now, the sweep brings to it.
      await queue.addAgain(found.jobs).catch(() => {});
      return found.replayed;
    },
    async listDeliveries(owner, id, limit, cursor) {
      if (!(await get(owner, id))) return undefined;
      const before = readCursor(cursor);
      const found = await listEndpointDeliveries(pool, owner, id, before, limit + 1);
      const items = found.slice(0, limit).map(({ sequence: _, ...delivery }) => delivery);
      return found.length > limit ? { items, next: String(found[limit - 1]!.sequence) } : { items };
    },
  };

  async function get(owner: string, id: string): Promise<Endpoint | undefined> {
    return isId(id) ? await readOne(pool, owner, id) : undefined;
  }

  function remove(owner: string, id: string, by: string): Promise<boolean> {
    return inTransaction(pool, async (client) => {
      const endpoint = await lockEndpoint(client, owner, id);
      if (!endpoint) return false;
      await client.query("DELETE FROM heatgate.endpoint WHERE owner = $1 AND id = $2", [owner, id]);
      const details = { receiver: new URL(endpoint.url).origin };
      await appendAudit(client, { owner, actor: by, kind: "endpoint.deleted", subject: id, details });
      return true;
    });
  }
}

async function create(
  { pool, sealer }: Deps,
  owner: string,
  { url, description, events, body }: EndpointSettings,
  secret: NewSecret,
  by: string,
): Promise<WithSecret> {
  return await inTransaction(pool, async (client) => {
    // Two creations at once wait for each other, or both would count one too few.
    await client.query("SELECT pg_advisory_xact_lock($1, hashtext($2))", [ENDPOINT_LOCK, owner]);
    const { rowCount } = await client.query("SELECT 1 FROM heatgate.endpoint WHERE owner = $1", [owner]);
    if ((rowCount ?? 0) >= ENDPOINTS_OF_OWNER) {
      throw new TooMany(`There are ${ENDPOINTS_OF_OWNER} endpoints already; delete one first.`);
    }
    const id = newId();
    await client.query(
      "INSERT INTO heatgate.endpoint (id, owner, url, description, events, body) VALUES ($1, $2, $3, $4, $5, $6)",
      [id, owner, url, description, events ?? null, body],
    );
    const told = await addSecret(client, sealer, id, secret);
    const details = { ...shown({ url, events, body }), signature: secret.kind };
    await appendAudit(client, { owner, actor: by, kind: "endpoint.created", subject: id, details });
    return { endpoint: (await readOne(client, owner, id))!, ...told };
  });
}

async function update(
  { pool, queue }: Deps,
  owner: string,
  id: string,
  change: EndpointChange,
  by: string,
): Promise<Endpoint | undefined> {
  const done = await inTransaction(pool, async (client) => {
    const before = await lockEndpoint(client, owner, id);
    if (!before) return undefined;
    const { url = before.url, description = before.description, body = before.body, state } = change;
    const events = change.events === undefined ? before.events : change.events;
    await client.query(
      `UPDATE heatgate.endpoint SET url = $3, description = $4, events = $5, body = $6 WHERE owner = $1 AND id = $2`,
      [owner, id, url, description, events ?? null, body],
    );
    const jobs = state === "disabled" ? await disableEndpoint(client, queue, id, "asked", by) : [];
    const isEnabled = state === "active" && (await enable(client, owner, id));
    const details = { ...shown({ url, events: events ?? undefined, body }), ...(isEnabled && { state }) };
    await appendAudit(client, { owner, actor: by, kind: "endpoint.changed", subject: id, details });
    return { endpoint: (await readOne(client, owner, id))!, jobs };
  });
  if (done) await tellQueue(queue, done.jobs);
  return done?.endpoint;
}

async function enable(client: Queryable, owner: string, id: string): Promise<boolean> {
  const { rowCount } = await client.query(
    `UPDATE heatgate.endpoint SET state = 'active', disabled_at = NULL, disabled_because = NULL, failing_since = NULL
     WHERE owner = $1 AND id = $2 AND state = 'disabled'`,
    [owner, id],
  );
  return rowCount === 1;
}

/** For the audit trail: of the address no more than the origin, since the rest may hold its owner's tokens. */
function shown({
  url,
  events,
  body,
}: Pick<EndpointSettings, "url" | "body"> & { events?: readonly string[] | undefined }) {
  return { receiver: new URL(url).origin, events: events ?? "all", body };
}

async function lockEndpoint(client: Queryable, owner: string, id: string): Promise<Endpoint | undefined> {
  if (!isId(id)) return undefined;
  await client.query("SELECT 1 FROM heatgate.endpoint WHERE owner = $1 AND id = $2 FOR UPDATE", [owner, id]);
  return await readOne(client, owner, id);
}

async function activeEndpoint(client: Queryable, owner: string, id: string): Promise<Endpoint | undefined> {
  const endpoint = await lockEndpoint(client, owner, id);
  if (endpoint?.state === "disabled") throw new EndpointDisabled("It is disabled; set its state to active first.");
  return endpoint;
}

async function readOne(client: Queryable, owner: string, id: string): Promise<Endpoint | undefined> {
  const [found] = await read(client, "p.owner = $1 AND p.id = $2", [owner, id]);
  return found;
}

async function read(client: Queryable, where: string, values: readonly string[]): Promise<readonly Endpoint[]> {
  const { rows } = await client.query<EndpointRow>(
    `SELECT ${ENDPOINT_COLUMNS} FROM heatgate.endpoint AS p WHERE ${where}`,
    [...values],
  );
  const signatures = await readSignatures(
    client,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => readEndpointRow(row, signatures.get(row.id) ?? []));
}

function readCursor(cursor: string | undefined): number | undefined {
  if (cursor === undefined) return undefined;
  if (!/^\d{1,15}$/.test(cursor)) throw new BadCursor("This cursor was not given out by this service.");
  return Number(cursor);
}

/** "recv" in ASCII. */
const ENDPOINT_LOCK = 0x72656376;
