import { digestOf } from "../../worker/store/requirement-digest.js";
import { RequirementArchived, type Requirements, type StoredRequirement } from "../../worker/store/requirements.js";

/** Requirements in memory, behaving: versions count up and stay. */
export function memoryRequirements(): Requirements {
  const kept = new Map<string, StoredRequirement[]>();
  const all = (owner: string, slug: string) => kept.get(`${owner} ${slug}`) ?? [];
  return {
    async list(owner, archived = false) {
      const theirs = [...kept].filter(([name]) => name.startsWith(`${owner} `)).map(([, versions]) => versions[0]!);
      const asked = theirs.filter(({ archivedAt }) => (archivedAt !== undefined) === archived);
      return asked.sort((a, b) => a.slug.localeCompare(b.slug));
    },
    async get(owner, slug, version) {
      return all(owner, slug).find((stored) => version === undefined || stored.version === version);
    },
    async versions(owner, slug) {
      return all(owner, slug);
    },
    async put(owner, slug, requirement, by, over) {
      const newest = all(owner, slug)[0];
      if (newest?.archivedAt) throw new RequirementArchived();
      if (over !== undefined && over !== (newest?.version ?? 0)) return undefined;
      const digest = digestOf(requirement);
      if (newest?.digest === digest) return { stored: newest, isNew: false };
      const version = (newest?.version ?? 0) + 1;
      const stored = { slug, version, requirement, digest, createdAt: new Date(), createdBy: by };
      kept.set(`${owner} ${slug}`, [stored, ...all(owner, slug)]);
      return { stored, isNew: true };
    },
    async archive(owner, slug) {
      if (!kept.has(`${owner} ${slug}`)) return undefined;
      const archivedAt = all(owner, slug)[0]?.archivedAt ?? new Date();
      kept.set(
        `${owner} ${slug}`,
        all(owner, slug).map((stored) => ({ ...stored, archivedAt })),
      );
      return all(owner, slug)[0];
    },
    async restore(owner, slug) {
      if (!kept.has(`${owner} ${slug}`)) return undefined;
      kept.set(
        `${owner} ${slug}`,
        all(owner, slug).map(({ archivedAt: _, ...stored }) => stored),
      );
      return all(owner, slug)[0];
    },
  };
}
