import type { Requirements, StoredRequirement } from "../../worker/store/requirements.js";
import { digestOf } from "../../worker/store/sql-requirements.js";

/** Requirements in memory, behaving: versions count up and stay. */
export function memoryRequirements(): Requirements {
  const kept = new Map<string, StoredRequirement[]>();
  const all = (owner: string, slug: string) => kept.get(`${owner} ${slug}`) ?? [];
  return {
    async list(owner) {
      const theirs = [...kept].filter(([name]) => name.startsWith(`${owner} `));
      return theirs.map(([, versions]) => versions[0]!).sort((a, b) => a.slug.localeCompare(b.slug));
    },
    async get(owner, slug, version) {
      return all(owner, slug).find((stored) => version === undefined || stored.version === version);
    },
    async versions(owner, slug) {
      return all(owner, slug);
    },
    async put(owner, slug, requirement, by, over) {
      const newest = all(owner, slug)[0];
      if (over !== undefined && over !== (newest?.version ?? 0)) return undefined;
      const digest = digestOf(requirement);
      if (newest?.digest === digest) return { stored: newest, isNew: false };
      const version = (newest?.version ?? 0) + 1;
      const stored = { slug, version, requirement, digest, createdAt: new Date(), createdBy: by };
      kept.set(`${owner} ${slug}`, [stored, ...all(owner, slug)]);
      return { stored, isNew: true };
    },
  };
}
