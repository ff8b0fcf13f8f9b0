import type { Scope } from "../../worker/store/keys.js";

/** Every operation under /v1 wants a key; this names the scope that the key must have. */
export function needsScope(scope: Scope) {
  return { security: [{ key: [scope] }] };
}

export const KEY_SCHEME = {
  type: "http",
  scheme: "bearer",
  bearerFormat: "hg_live_…",
  description:
    "An API key. Scopes: submit (hand in), read (submissions, reports, events), decide (record decisions), admin (the client's API keys, endpoints, erasure), operate (API keys of all clients, signing keys). " +
    "Keys of one client see nothing of another's.",
} as const;
