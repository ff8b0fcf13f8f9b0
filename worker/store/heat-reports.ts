import type pg from "pg";
import type { ReportDocument, ReportHeat } from "../../core/report/report.js";
import { idsMade } from "./new-id.js";

/** A heat with all that its stored report says of it. */
export interface HeatReport {
  readonly submission: string;
  readonly heat: ReportHeat;
  readonly documents: readonly ReportDocument[];
  readonly createdAt: Date;
}

export interface HeatReportFilter {
  readonly owner: string;
  /** Part of an issuer's name. */
  readonly issuer?: string;
  readonly createdFrom?: Date;
  readonly createdBefore?: Date;
}

export type ListHeatReports = (filter: HeatReportFilter, limit: number) => Promise<readonly HeatReport[]>;

/** The newest heats, oldest of them first. A heat that was handed in twice is there twice. */
export async function listHeatReports(
  pool: pg.Pool,
  { owner, issuer, createdFrom, createdBefore }: HeatReportFilter,
  limit: number,
): Promise<readonly HeatReport[]> {
  const { rows } = await pool.query<HeatReport>(
    `SELECT h.submission, s.created_at AS "createdAt", r.json::jsonb -> 'documents' AS documents,
            r.json::jsonb -> 'heats' -> h.position AS heat
     FROM heatgate.heat AS h
       JOIN heatgate.submission AS s ON s.id = h.submission
       JOIN heatgate.report AS r ON r.submission = h.submission
     WHERE h.owner = $1
       AND ($2::text IS NULL OR EXISTS (SELECT 1 FROM unnest(h.issuers) AS issuer WHERE strpos(lower(issuer), lower($2)) > 0))
       AND ($3::timestamptz IS NULL OR s.created_at >= $3)
       AND ($4::timestamptz IS NULL OR s.created_at < $4)
       -- Where indexes begin and end, of either table, since PostgreSQL concludes neither from the other.
       AND h.submission >= $6 AND s.id >= $6 AND h.submission < $7 AND s.id < $7
     ORDER BY h.submission DESC, h.position LIMIT $5`,
    [owner, issuer ?? null, createdFrom ?? null, createdBefore ?? null, limit, ...idsMade(createdFrom, createdBefore)],
  );
  return rows.reverse();
}
