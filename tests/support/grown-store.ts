import type pg from "pg";

/**
 * Submissions `from` to `to` with document, report, heat, event, delivery and audit entry, made by SQL: one every so many
 * seconds since November 2023, spread over ten clients. Every thousandth fails its heat, every 997th failed itself. The 20 of "yard" are the oldest.
 */
export async function growStore(pool: pg.Pool, from: number, to: number, everySeconds = 1): Promise<void> {
  const { rows: keys } = await pool.query("SELECT id FROM heatgate.signing_key LIMIT 1");
  const generated = (rest: string) =>
    pool.query(
      `WITH n AS (
         SELECT i, (lpad(to_hex(1700000000000 + i * $3::integer * 1000), 12, '0') || '70008000' || lpad(to_hex(i), 12, '0'))::uuid AS id,
                CASE WHEN i < 20 THEN 'yard' ELSE 'client ' || i % 10 END AS owner,
                CASE WHEN i % 997 = 996 THEN 'failed' ELSE 'done' END AS state,
                CASE WHEN i % 1000 = 0 THEN 'fail' ELSE 'pass' END AS verdict,
                to_timestamp(1700000000 + i * $3::integer) AS at
         FROM generate_series($1::bigint, $2::bigint - 1) AS i)
       ${rest}`,
      [from, to, everySeconds],
    );
  await generated(`INSERT INTO heatgate.submission
      (id, state, owner, created_at, touched_at, finished_at, tags, verdict, heats, report_digest, failure_code, content, callback_url,
       callback_secret)
    SELECT id, state, owner, at, at, at, jsonb_build_object('order', (i % 5000)::text), CASE state WHEN 'done' THEN verdict END, '{}', 'd',
           CASE state WHEN 'failed' THEN 'internal-fault' END, 'content ' || i, 'https://a.example', 's' FROM n`);
  await generated(`INSERT INTO heatgate.document (submission, position, name, sha256, bytes, media_type)
    SELECT id, 0, 'cert.csv', encode(sha256(i::text::bytea), 'hex'), 100, 'text/csv' FROM n`);
  await generated(`INSERT INTO heatgate.idempotency_key (owner, key, fingerprint, submission, created_at)
    SELECT owner, 'key ' || i, 'f', id, at FROM n`);
  await generated(`INSERT INTO heatgate.report (submission, json, digest, earlier, signing_key, signature)
    SELECT id, '{"documents":[],"heats":[],"more":"' || repeat('x', 2000) || '"}', 'd', '[]', '${keys[0]?.id}', 's' FROM n`);
  await generated(`INSERT INTO heatgate.heat (submission, position, owner, heat, key, verdict, issuers, cast_analysis)
    SELECT id, 0, owner, 'H' || i, 'H' || i, verdict, ARRAY['Norrvik'], '[]' FROM n`);
  await generated(`INSERT INTO heatgate.event (id, submission, owner, type, body, created_at)
    SELECT 'evt_' || id, id, owner, 'submission.done', repeat('x', 400), at FROM n`);
  await generated(`INSERT INTO heatgate.delivery (id, event, url, secret, state, tries)
    SELECT 'evt_' || id, 'evt_' || id, 'https://a.example', 's', 'delivered', 1 FROM n`);
  await generated(`INSERT INTO heatgate.delivery_attempt (delivery, attempt, started_at, duration_ms, status)
    SELECT 'evt_' || id, 1, at, 20, 204 FROM n`);
  await generated(`INSERT INTO heatgate.trial (id, submission, kind, state, created_at, touched_at, finished_at, result)
    SELECT id, id, 'grades', 'done', at, at, at, '{}' FROM n`);
  await generated(`INSERT INTO heatgate.audit (owner, number, at, actor, kind, subject, details, previous, hash)
    SELECT 'client', i + 1, '', 'heatgate', 'submission.done', id::text, '{}', '', '' FROM n`);
}
