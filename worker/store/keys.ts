/**
 * What a key lets its holder do. admin: look after the client's own keys and endpoints, and erase. operate: look after the
 * installation: keys of every client, and the keys that sign.
 */
export const SCOPES = ["submit", "read", "decide", "admin", "operate"] as const;
export type Scope = (typeof SCOPES)[number];

/** A key as it is known to the store: never the key itself. */
export interface KeyRecord {
  readonly id: string;
  /** Whose key it is. What is handed in with it belongs to this client, and no other client sees it. */
  readonly client: string;
  /** Its holder's name for it: "ERP production". */
  readonly name: string;
  /** The first characters of the key, for a person to tell keys apart. */
  readonly begins: string;
  readonly scopes: readonly Scope[];
  readonly createdAt: Date;
  readonly expiresAt?: Date;
  readonly revokedAt?: Date;
  /** To the minute. */
  readonly lastUsedAt?: Date;
}

export interface NewKey {
  readonly client: string;
  readonly name: string;
  readonly scopes: readonly Scope[];
  readonly expiresAt?: Date;
}

/** Two keys can be live at once, so that one can take over from the other. */
export const LIVE_KEYS_OF_CLIENT = 2;

export class TooManyLiveKeys extends Error {
  override readonly name = "TooManyLiveKeys";
}

export interface Keys {
  /** The key itself is told here and never again. `by`: for the audit trail. Throws `TooManyLiveKeys`. */
  create(key: NewKey, by: string): Promise<{ readonly key: string; readonly record: KeyRecord }>;
  /** The live key with this text: known, not expired, not revoked. Notes its use. */
  authenticate(key: string): Promise<KeyRecord | undefined>;
  /** Of one client, or of all. */
  list(client?: string): Promise<readonly KeyRecord[]>;
  /** Works from the next request on. False: there is no such live key, or none of this client. */
  revoke(id: string, by: string, client?: string): Promise<boolean>;
}
