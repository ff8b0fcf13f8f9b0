import type { SpotPicture } from "../../core/report/spot-picture.js";
import { isId } from "./new-id.js";
import { type OwnerAsked, ownerParameter } from "./records.js";
import type { Queryable } from "./transaction.js";

/** In the transaction that stores the report. Most reports are of tables, and have none. */
export async function keepPictures(client: Queryable, id: string, pictures: readonly SpotPicture[]): Promise<void> {
  if (pictures.length === 0) return;
  await client.query("INSERT INTO heatgate.report_pictures (submission, pictures) VALUES ($1, $2)", [
    id,
    JSON.stringify(pictures),
  ]);
}

export async function getPictures(client: Queryable, id: string, owner: OwnerAsked): Promise<readonly SpotPicture[]> {
  if (!isId(id)) return [];
  const { rows } = await client.query<{ pictures: string }>(
    `SELECT p.pictures FROM heatgate.report_pictures AS p JOIN heatgate.submission AS s ON s.id = p.submission
     WHERE s.id = $1 AND ($2::text IS NULL OR s.owner = $2)`,
    [id, ownerParameter(owner)],
  );
  return rows[0] ? JSON.parse(rows[0].pictures) : [];
}
