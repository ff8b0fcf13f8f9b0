import type pg from "pg";
import { BODIES, type BodyKind } from "./endpoints.js";
import type { Sealer } from "./signing/sealer.js";
import type { Queryable } from "./transaction.js";

/** What one try needs to know. */
export interface DueDelivery {
  readonly id: string;
  readonly event: string;
  readonly submission?: string;
  /** Absent for a submission's callback. */
  readonly endpoint?: string;
  readonly url: string;
  /** All that sign, newest first: whsec_…, or the PEM of an Ed25519 key. */
  readonly secrets: readonly string[];
  readonly body: string;
  /** It answered 410 before, or its owner wants nothing sent to it. */
  readonly isDisabled: boolean;
  /** Tries that were made before this one, since the event or since it was asked for again. */
  readonly tries: number;
}

/** `heldMs`: somebody has it in hands, or had when they died; come back after this time. */
export interface Claim {
  readonly due?: DueDelivery;
  readonly heldMs?: number;
}

/** Longer than a try may take. */
const CLAIM_LIFETIME = "interval '30 seconds'";

/** Of a delivery d: its first try is due at once, or when a claim on it runs out. Farther off it is by another clock than today's. */
export const LEFT_BY_A_CLOCK_SET_BACK = `(d.tries = 0 AND d.next_attempt_at > now() + ${CLAIM_LIFETIME} + interval '1 second')`;

/** Larger bodies are not sent: their receivers get the thin one and fetch the rest. */
const LARGEST_BODY_BYTES = 262_144;

/**
 * Takes the delivery for one try, or nothing when it is over or another time's. The claim runs out by itself, so a sender
 * that dies in the middle, or cannot write down what happened, costs a delay and not the delivery. `isTakenOver`: whoever held it is
 * taken to be dead; were it only slow, its receiver would hear of the event twice.
 */
export async function claimDelivery(pool: pg.Pool, sealer: Sealer, id: string, isTakenOver = false): Promise<Claim> {
  const { rows } = await pool.query<ClaimedRow>(
    `UPDATE heatgate.delivery AS d SET next_attempt_at = now() + ${CLAIM_LIFETIME}
     FROM heatgate.event AS e
     WHERE d.id = $1 AND e.id = d.event AND d.state = 'pending'
       AND (d.next_attempt_at <= now() + interval '1 second' OR ${LEFT_BY_A_CLOCK_SET_BACK}
            OR ($2 AND d.next_attempt_at <= now() + ${CLAIM_LIFETIME}))
     RETURNING d.id, d.event, e.submission, d.url, d.secret, d.endpoint, e.body, d.tries`,
    [id, isTakenOver],
  );
  const claimed = rows[0];
  if (!claimed) return await readHolder(pool, id);
  const { submission, endpoint, url, secret, body, tries } = claimed;
  const known = { id, event: claimed.event, tries, ...(submission !== null && { submission }) };
  if (endpoint !== null)
    return { due: { ...known, endpoint, ...(await readEndpoint(pool, sealer, endpoint, claimed)) } };
  const isDisabled = await isCallbackDisabled(pool, claimed.event, url!);
  return { due: { ...known, url: url!, secrets: [sealer.open("webhook-secret", secret!)], body, isDisabled } };
}

/** Gives a claim back untried. */
export async function releaseDelivery(pool: pg.Pool, id: string): Promise<void> {
  await pool.query("UPDATE heatgate.delivery SET next_attempt_at = now() WHERE id = $1 AND state = 'pending'", [id]);
}

interface ClaimedRow {
  readonly id: string;
  readonly event: string;
  readonly submission: string | null;
  readonly url: string | null;
  readonly secret: string | null;
  readonly endpoint: string | null;
  readonly body: string;
  readonly tries: number;
}

async function readHolder(pool: pg.Pool, id: string): Promise<Claim> {
  const { rows } = await pool.query<{ heldMs: number }>(
    `SELECT extract(epoch FROM next_attempt_at - now())::double precision * 1000 AS "heldMs" FROM heatgate.delivery
     WHERE id = $1 AND state = 'pending' AND next_attempt_at <= now() + ${CLAIM_LIFETIME}`,
    [id],
  );
  return rows[0] ?? {};
}

/** For the event's owner: what the same URL answered to another client is nothing to them. */
async function isCallbackDisabled(pool: pg.Pool, event: string, url: string): Promise<boolean> {
  const { rowCount } = await pool.query(
    `SELECT 1 FROM heatgate.disabled_callback AS c JOIN heatgate.event AS e ON coalesce(e.owner, '') = c.owner
     WHERE e.id = $1 AND c.url = $2`,
    [event, url],
  );
  return rowCount === 1;
}

/** As the endpoint is now: a new address or secret also holds for what was to be sent before. */
async function readEndpoint(pool: pg.Pool, sealer: Sealer, endpoint: string, { event, body }: ClaimedRow) {
  const { rows } = await pool.query<{ url: string; state: string; body: BodyKind; secrets: string[] }>(
    `SELECT p.url, p.state, p.body,
            ARRAY(SELECT s.sealed FROM heatgate.endpoint_secret AS s
                  WHERE s.endpoint = p.id AND (s.ends_at IS NULL OR s.ends_at > now()) ORDER BY s.created_at DESC) AS secrets
     FROM heatgate.endpoint AS p WHERE p.id = $1`,
    [endpoint],
  );
  // Deleted this moment, its deliveries with it: what becomes of this try is nobody's business any more.
  const { url, state, body: kind, secrets } = rows[0] ?? GONE;
  return {
    url,
    secrets: secrets.map((sealed) => sealer.open("webhook-secret", sealed)),
    body: kind === "full" ? await fullBody(pool, event, body) : body,
    isDisabled: state !== "active",
  };
}

const GONE = { url: "https://deleted.invalid/", state: "deleted", body: BODIES[0], secrets: [] };

/** The thin body with `content` in its data: the report as it is stored, or what the event brought along. */
async function fullBody(client: Queryable, event: string, thin: string): Promise<string> {
  const { rows } = await client.query<{ content: string | null }>(
    `SELECT coalesce(e.content, r.json) AS content FROM heatgate.event AS e
     LEFT JOIN heatgate.report AS r ON r.submission = e.submission AND e.type IN ('submission.done', 'heat.failed')
     WHERE e.id = $1 AND octet_length(coalesce(e.content, r.json)) < $2`,
    [event, LARGEST_BODY_BYTES],
  );
  const content = rows[0]?.content;
  // Put in as text: its bytes are what its digest and signature are about.
  return content ? `${thin.slice(0, -2)},"content":${content}}}` : thin;
}
