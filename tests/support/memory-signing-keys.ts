import { newKeyPair } from "../../worker/store/signing/ed25519.js";
import type { SigningKey, SigningKeys } from "../../worker/store/signing/signing-keys.js";

/** Signing keys in memory, behaving: one is in use, rotating retires it, revoking takes it back. */
export function memorySigningKeys(): SigningKeys {
  const make = (): SigningKey => {
    const { id, publicKey } = newKeyPair();
    return { id, publicKey, createdAt: new Date() };
  };
  let kept: SigningKey[] = [make()];
  const keys: SigningKeys = {
    list: async () => kept,
    async rotate() {
      kept = kept.map((key) => ({ ...key, retiredAt: key.retiredAt ?? new Date() }));
      kept.unshift(make());
      return kept[0]!;
    },
    async revoke(id) {
      const found = kept.find((key) => key.id === id && !key.revokedAt);
      if (!found) return false;
      if (!found.retiredAt) await keys.rotate("memory");
      kept = kept.map((key) => (key.id === id ? { ...key, revokedAt: new Date() } : key));
      return true;
    },
  };
  return keys;
}
