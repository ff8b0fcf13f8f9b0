import type { Requirement } from "../../core/requirement/requirement.js";

/** A requirement kept under a name of its owner's choice. A version never changes once it is there. */
export interface StoredRequirement {
  /** The owner's name for it in addresses: t-204-shell-plate. */
  readonly slug: string;
  readonly version: number;
  readonly requirement: Requirement;
  /** SHA-256 of its canonical JSON, as reports name it. */
  readonly digest: string;
  readonly createdAt: Date;
  /** Name of the key that it was put with. */
  readonly createdBy: string;
  /** Since then it is neither listed nor chosen, in no version. */
  readonly archivedAt?: Date;
}

/** It is archived, and takes no further version. */
export class RequirementArchived extends Error {
  override readonly name = "RequirementArchived";
}

export interface Requirements {
  /** Newest version of each that is archived, or of each that is not, by slug. */
  list(owner: string, archived?: boolean): Promise<readonly StoredRequirement[]>;
  /** Without a version: the newest. */
  get(owner: string, slug: string, version?: number): Promise<StoredRequirement | undefined>;
  versions(owner: string, slug: string): Promise<readonly StoredRequirement[]>;
  /**
   * Adds a version, unless the newest is the same already. With `over` only if the newest is that one (0: there is none
   * yet), so that two people who edit at once do not undo each other's work; undefined when it is not. Throws `RequirementArchived`.
   */
  put(
    owner: string,
    slug: string,
    requirement: Requirement,
    by: string,
    over?: number,
  ): Promise<{ readonly stored: StoredRequirement; readonly isNew: boolean } | undefined>;
  /** Every version stays to be read. Doing either twice changes nothing. Undefined: there is no such requirement. */
  archive(owner: string, slug: string, by: string): Promise<StoredRequirement | undefined>;
  restore(owner: string, slug: string, by: string): Promise<StoredRequirement | undefined>;
}
