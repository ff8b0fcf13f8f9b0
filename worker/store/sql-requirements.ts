import { createHash } from "node:crypto";
import canonicalize from "canonicalize";
import type pg from "pg";
import type { Requirement } from "../../core/requirement/requirement.js";
import { appendAudit } from "./audit.js";
import type { Requirements, StoredRequirement } from "./requirements.js";
import { inTransaction, type Queryable } from "./transaction.js";

export function openRequirements(pool: pg.Pool): Requirements {
  return {
    list: (owner) =>
      read(pool, "SELECT DISTINCT ON (slug) * FROM heatgate.requirement WHERE owner = $1 ORDER BY slug, version DESC", [
        owner,
      ]),
    async get(owner, slug, version) {
      const [found] = await read(
        pool,
        `SELECT * FROM heatgate.requirement WHERE owner = $1 AND slug = $2 AND ($3::integer IS NULL OR version = $3)
         ORDER BY version DESC LIMIT 1`,
        [owner, slug, version ?? null],
      );
      return found;
    },
    versions: (owner, slug) =>
      read(pool, "SELECT * FROM heatgate.requirement WHERE owner = $1 AND slug = $2 ORDER BY version DESC", [
        owner,
        slug,
      ]),
    put: (owner, slug, requirement, by, over) =>
      inTransaction(pool, async (client) => {
        await client.query("SELECT pg_advisory_xact_lock(hashtext($1), hashtext($2))", [owner, slug]);
        const [newest] = await read(
          client,
          "SELECT * FROM heatgate.requirement WHERE owner = $1 AND slug = $2 ORDER BY version DESC LIMIT 1",
          [owner, slug],
        );
        if (over !== undefined && over !== (newest?.version ?? 0)) return undefined;
        const digest = digestOf(requirement);
        if (newest?.digest === digest) return { stored: newest, isNew: false };
        const [stored] = await read(
          client,
          `INSERT INTO heatgate.requirement (owner, slug, version, requirement, digest, created_by)
           VALUES ($1, $2, $3, $4, $5, $6) RETURNING *`,
          [owner, slug, (newest?.version ?? 0) + 1, JSON.stringify(requirement), digest, by],
        );
        const details = { version: stored!.version, digest, name: requirement.name };
        await appendAudit(client, { owner, actor: by, kind: "requirement.changed", subject: slug, details });
        return { stored: stored!, isNew: true };
      }),
  };
}

/** As the report names a requirement: whoever holds the JSON can compute it. */
export function digestOf(requirement: Requirement): string {
  return createHash("sha256").update(canonicalize(requirement)!).digest("hex");
}

async function read(client: Queryable, sql: string, values: readonly unknown[]): Promise<StoredRequirement[]> {
  const { rows } = await client.query(sql, [...values]);
  return rows.map((row) => ({
    slug: row.slug,
    version: row.version,
    requirement: row.requirement,
    digest: row.digest,
    createdAt: row.created_at,
    createdBy: row.created_by,
  }));
}
