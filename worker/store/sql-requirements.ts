import type pg from "pg";
import type { Requirement } from "../../core/requirement/requirement.js";
import { appendAudit } from "./audit.js";
import type { AuditKind } from "./audit-chain.js";
import { digestOf } from "./requirement-digest.js";
import { RequirementArchived, type Requirements, type StoredRequirement } from "./requirements.js";
import { inTransaction, type Queryable } from "./transaction.js";

export function openRequirements(pool: pg.Pool): Requirements {
  return {
    list: (owner, archived = false) =>
      read(
        pool,
        `SELECT DISTINCT ON (r.slug) ${COLUMNS} FROM ${REQUIREMENTS}
         WHERE r.owner = $1 AND (a.slug IS NOT NULL) = $2 ORDER BY r.slug, r.version DESC`,
        [owner, archived],
      ),
    async get(owner, slug, version) {
      const [found] = await read(
        pool,
        `SELECT ${COLUMNS} FROM ${REQUIREMENTS}
         WHERE r.owner = $1 AND r.slug = $2 AND ($3::integer IS NULL OR r.version = $3) ORDER BY r.version DESC LIMIT 1`,
        [owner, slug, version ?? null],
      );
      return found;
    },
    versions: (owner, slug) =>
      read(pool, `SELECT ${COLUMNS} FROM ${REQUIREMENTS} WHERE r.owner = $1 AND r.slug = $2 ORDER BY r.version DESC`, [
        owner,
        slug,
      ]),
    put: (owner, slug, requirement, by, over) =>
      inTransaction(pool, (client) => put(client, owner, slug, requirement, by, over)),
    archive: (owner, slug, by) =>
      change(pool, owner, slug, by, {
        kind: "requirement.archived",
        sql: "INSERT INTO heatgate.archived_requirement (owner, slug) VALUES ($1, $2) ON CONFLICT DO NOTHING",
      }),
    restore: (owner, slug, by) =>
      change(pool, owner, slug, by, {
        kind: "requirement.restored",
        sql: "DELETE FROM heatgate.archived_requirement WHERE owner = $1 AND slug = $2",
      }),
  };
}

async function put(
  client: Queryable,
  owner: string,
  slug: string,
  requirement: Requirement,
  by: string,
  over: number | undefined,
): Promise<{ stored: StoredRequirement; isNew: boolean } | undefined> {
  await lockSlug(client, owner, slug);
  const newest = await readNewest(client, owner, slug);
  if (newest?.archivedAt) throw new RequirementArchived("The requirement is archived.");
  if (over !== undefined && over !== (newest?.version ?? 0)) return undefined;
  const digest = digestOf(requirement);
  if (newest?.digest === digest) return { stored: newest, isNew: false };
  await client.query(
    `INSERT INTO heatgate.requirement (owner, slug, version, requirement, digest, created_by) VALUES ($1, $2, $3, $4, $5, $6)`,
    [owner, slug, (newest?.version ?? 0) + 1, JSON.stringify(requirement), digest, by],
  );
  const stored = (await readNewest(client, owner, slug))!;
  const details = { version: stored.version, digest, name: requirement.name };
  await appendAudit(client, { owner, actor: by, kind: "requirement.changed", subject: slug, details });
  return { stored, isNew: true };
}

async function change(
  pool: pg.Pool,
  owner: string,
  slug: string,
  by: string,
  { kind, sql }: { readonly kind: AuditKind; readonly sql: string },
): Promise<StoredRequirement | undefined> {
  return await inTransaction(pool, async (client) => {
    await lockSlug(client, owner, slug);
    const newest = await readNewest(client, owner, slug);
    if (!newest) return undefined;
    const { rowCount } = await client.query(sql, [owner, slug]);
    if (rowCount === 1) {
      const details = { version: newest.version, digest: newest.digest };
      await appendAudit(client, { owner, actor: by, kind, subject: slug, details });
    }
    return await readNewest(client, owner, slug);
  });
}

async function lockSlug(client: Queryable, owner: string, slug: string): Promise<void> {
  await client.query("SELECT pg_advisory_xact_lock(hashtext($1), hashtext($2))", [owner, slug]);
}

async function readNewest(client: Queryable, owner: string, slug: string): Promise<StoredRequirement | undefined> {
  const [newest] = await read(
    client,
    `SELECT ${COLUMNS} FROM ${REQUIREMENTS} WHERE r.owner = $1 AND r.slug = $2 ORDER BY r.version DESC LIMIT 1`,
    [owner, slug],
  );
  return newest;
}

const COLUMNS = "r.slug, r.version, r.requirement, r.digest, r.created_at, r.created_by, a.archived_at";
const REQUIREMENTS =
  "heatgate.requirement AS r LEFT JOIN heatgate.archived_requirement AS a ON a.owner = r.owner AND a.slug = r.slug";

async function read(client: Queryable, sql: string, values: readonly unknown[]): Promise<StoredRequirement[]> {
  const { rows } = await client.query(sql, [...values]);
  return rows.map((row) => ({
    slug: row.slug,
    version: row.version,
    requirement: row.requirement,
    digest: row.digest,
    createdAt: row.created_at,
    createdBy: row.created_by,
    ...(row.archived_at && { archivedAt: row.archived_at }),
  }));
}
