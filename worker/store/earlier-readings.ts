import type { EarlierHeat, EarlierReading } from "../../core/certificate/earlier-reading.js";
import { normaliseHeatNumber } from "../../core/certificate/join-heats.js";
import type { Queryable } from "./transaction.js";

/**
 * What reports of the same client say of these heats, each different value once, from the submission that had it first.
 *
 * Left out are readings of the very documents of this submission, and of a submission that a person has since corrected: the
 * same paper read once more must not contradict itself, and what was corrected no longer stands, though the correction were erased.
 */
export async function findEarlierReadings(
  client: Queryable,
  submission: string,
  heats: readonly string[],
): Promise<readonly EarlierHeat[]> {
  if (heats.length === 0) return [];
  const { rows } = await client.query<{ heat: string; reading: EarlierReading }>(
    `SELECT DISTINCT ON (h.key, reading->>'quantity', reading->>'value', reading->'document'->>'issuer') h.key AS heat, reading
     FROM heatgate.submission AS this
     JOIN heatgate.heat AS h ON h.owner = coalesce(this.owner, '') AND h.key = ANY($2) AND h.submission <> this.id
     JOIN heatgate.submission AS s ON s.id = h.submission
     CROSS JOIN LATERAL jsonb_array_elements(h.cast_analysis) AS reading
     WHERE this.id = $1
       AND NOT EXISTS (
         SELECT 1 FROM heatgate.submission AS later
         WHERE later.correction_of IN (s.id, s.correction_of) AND later.state = 'done' AND later.id > s.id)
       AND NOT EXISTS (
         SELECT 1 FROM heatgate.erasure AS erased
         WHERE erased.correction_of IN (s.id, s.correction_of) AND erased.report_digest IS NOT NULL AND erased.submission > s.id)
       AND NOT EXISTS (
         SELECT 1 FROM heatgate.document AS d
         WHERE d.submission = this.id AND d.sha256 = reading->'document'->>'sha256')
     ORDER BY h.key, reading->>'quantity', reading->>'value', reading->'document'->>'issuer', h.submission`,
    [submission, [...new Set(heats.map(normaliseHeatNumber))]],
  );
  const byHeat = new Map<string, EarlierReading[]>();
  for (const { heat, reading } of rows) byHeat.set(heat, [...(byHeat.get(heat) ?? []), reading]);
  return [...byHeat].map(([heat, readings]) => ({ heat, readings }));
}
