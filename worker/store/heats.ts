import type pg from "pg";
import { normaliseHeatNumber } from "../../core/certificate/join-heats.js";
import { castReadings } from "../../core/report/cast-readings.js";
import type { Report } from "../../core/report/report.js";
import type { Outcome } from "../../core/verdict/finding.js";
import { idsMade, isId } from "./new-id.js";
import { BadCursor, type Page } from "./records.js";
import type { Queryable } from "./transaction.js";

/** One heat of one submission. */
export interface HeatRecord {
  readonly submission: string;
  readonly heat: string;
  readonly verdict: Outcome;
  /** Who issued the submission's documents, as they name themselves. */
  readonly issuers: readonly string[];
  readonly tags: Readonly<Record<string, string>>;
  readonly createdAt: Date;
}

export interface HeatFilter {
  readonly owner: string;
  /** Compared without spaces, hyphens and case. */
  readonly heat?: string;
  readonly verdict?: Outcome;
  /** Part of an issuer's name. */
  readonly issuer?: string;
  readonly tags?: Readonly<Record<string, string>>;
  readonly createdFrom?: Date;
  readonly createdBefore?: Date;
}

export type ListHeats = (filter: HeatFilter, limit: number, cursor?: string) => Promise<Page<HeatRecord>>;

/** Writes down a report's heats, in the transaction that stores the report. */
export async function keepHeats(client: Queryable, submission: string, owner: string, report: Report): Promise<void> {
  const issuers = [...new Set(report.documents.flatMap(({ issuer }) => issuer ?? []))];
  for (const [position, reported] of report.heats.entries()) {
    const { heat, verdict } = reported;
    const cast = JSON.stringify(castReadings(submission, reported, report));
    await client.query(
      `INSERT INTO heatgate.heat (submission, position, owner, heat, key, verdict, issuers, cast_analysis)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
      [submission, position, owner, heat, normaliseHeatNumber(heat), verdict, issuers, cast],
    );
  }
}

/** Newest first, stable while new ones arrive. Throws `BadCursor`. */
export async function listHeats(
  pool: pg.Pool,
  filter: HeatFilter,
  limit: number,
  cursor?: string,
): Promise<Page<HeatRecord>> {
  const after = readCursor(cursor);
  const { rows } = await pool.query(
    `SELECT h.submission, h.position, h.heat, h.verdict, h.issuers, s.tags, s.created_at AS "createdAt"
     FROM heatgate.heat AS h JOIN heatgate.submission AS s ON s.id = h.submission
     WHERE h.owner = $1
       AND ($2::text IS NULL OR h.key = $2)
       AND ($3::text IS NULL OR h.verdict = $3)
       AND ($4::text IS NULL OR EXISTS (SELECT 1 FROM unnest(h.issuers) AS issuer WHERE strpos(lower(issuer), lower($4)) > 0))
       AND ($5::jsonb IS NULL OR s.tags @> $5)
       AND ($6::timestamptz IS NULL OR s.created_at >= $6)
       AND ($7::timestamptz IS NULL OR s.created_at < $7)
       AND ($8::uuid IS NULL OR (h.submission, -h.position) < ($8, -$9::integer))
       -- Where indexes begin and end, of either table, since PostgreSQL concludes neither from the other.
       AND ($8::uuid IS NULL OR (h.submission <= $8 AND s.id <= $8))
       AND h.submission >= $11 AND s.id >= $11 AND h.submission < $12 AND s.id < $12
     ORDER BY h.submission DESC, h.position LIMIT $10`,
    [
      filter.owner,
      filter.heat === undefined ? null : normaliseHeatNumber(filter.heat),
      filter.verdict ?? null,
      filter.issuer ?? null,
      filter.tags ? JSON.stringify(filter.tags) : null,
      filter.createdFrom ?? null,
      filter.createdBefore ?? null,
      after?.submission ?? null,
      after?.position ?? 0,
      limit + 1,
      ...idsMade(filter.createdFrom, filter.createdBefore),
    ],
  );
  const items = rows.slice(0, limit).map(({ position: _, ...heat }) => heat as HeatRecord);
  const last = rows[limit - 1];
  return rows.length > limit ? { items, next: `${last.submission}.${last.position}` } : { items };
}

function readCursor(cursor: string | undefined): { submission: string; position: number } | undefined {
  if (cursor === undefined) return undefined;
  const [submission = "", position = ""] = cursor.split(".");
  if (!isId(submission) || !/^\d{1,6}$/.test(position))
    throw new BadCursor("This cursor was not given out by this service.");
  return { submission, position: Number(position) };
}
