import { randomUUID } from "node:crypto";
import { keyBegins, newKeyText } from "../../worker/store/key-text.js";
import {
  type KeyRecord,
  type Keys,
  LIVE_KEYS_OF_CLIENT,
  type NewKey,
  TooManyLiveKeys,
} from "../../worker/store/keys.js";

/** Keys in memory, behaving: they expire, are revoked, and are two to a client. */
export function memoryKeys(): Keys {
  const kept = new Map<string, KeyRecord>();
  const isLive = ({ expiresAt, revokedAt }: KeyRecord) => !revokedAt && (!expiresAt || expiresAt > new Date());
  return {
    async create(key: NewKey) {
      const live = [...kept.values()].filter((other) => other.client === key.client && isLive(other));
      if (live.length >= LIVE_KEYS_OF_CLIENT) throw new TooManyLiveKeys("two keys are live");
      const text = newKeyText();
      const record = { ...key, id: randomUUID(), begins: keyBegins(text), createdAt: new Date() };
      kept.set(text, record);
      return { key: text, record };
    },
    async authenticate(text) {
      const record = kept.get(text);
      return record && isLive(record) ? record : undefined;
    },
    async list(client) {
      return [...kept.values()].filter((record) => client === undefined || record.client === client);
    },
    async revoke(id, _by, client) {
      const found = [...kept].find(
        ([, record]) => record.id === id && !record.revokedAt && record.client === (client ?? record.client),
      );
      if (found) kept.set(found[0], { ...found[1], revokedAt: new Date() });
      return found !== undefined;
    },
  };
}
