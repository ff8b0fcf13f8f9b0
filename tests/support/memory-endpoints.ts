import { randomUUID } from "node:crypto";
import {
  ENDPOINTS_OF_OWNER,
  type Endpoint,
  EndpointDisabled,
  type Endpoints,
  type LiveSecret,
  type NewSecret,
  TooMany,
} from "../../worker/store/endpoints.js";
import { newWebhookSecret } from "../../worker/store/webhook-secret.js";

/** Endpoints in memory, behaving as far as a caller sees; nothing is sent. */
export function memoryEndpoints(): Endpoints {
  const kept = new Map<string, { readonly owner: string; endpoint: Endpoint }>();
  const find = (owner: string, id: string) => {
    const found = kept.get(id);
    return found?.owner === owner ? found : undefined;
  };
  const active = (owner: string, id: string) => {
    const found = find(owner, id);
    if (found?.endpoint.state === "disabled") throw new EndpointDisabled("it is disabled");
    return found;
  };
  const signature = ({ kind }: NewSecret): LiveSecret => ({
    kind,
    createdAt: new Date(),
    ...(kind === "v1a" && { publicKey: "whpk_memory" }),
  });
  const told = ({ kind, secret }: NewSecret) => (kind === "v1" ? { secret: secret ?? newWebhookSecret() } : {});

  return {
    async create(owner, settings, secret) {
      const count = [...kept.values()].filter((other) => other.owner === owner).length;
      if (count >= ENDPOINTS_OF_OWNER) throw new TooMany("there are enough");
      const more = {
        id: randomUUID(),
        state: "active" as const,
        createdAt: new Date(),
        signatures: [signature(secret)],
      };
      const endpoint = { ...settings, ...more };
      kept.set(endpoint.id, { owner, endpoint });
      return { endpoint, ...told(secret) };
    },
    list: async (owner) => [...kept.values()].filter((one) => one.owner === owner).map(({ endpoint }) => endpoint),
    get: async (owner, id) => find(owner, id)?.endpoint,
    async update(owner, id, { events, state, ...change }) {
      const found = find(owner, id);
      if (!found) return undefined;
      const { events: before, disabledAt: _at, disabledBecause: _because, ...rest } = found.endpoint;
      const chosen = events === undefined ? before : events;
      const isDisabled = (state ?? rest.state) === "disabled";
      found.endpoint = {
        ...rest,
        ...change,
        state: isDisabled ? "disabled" : "active",
        ...(chosen && { events: chosen }),
        ...(isDisabled && { disabledAt: new Date(), disabledBecause: "asked" as const }),
      };
      return found.endpoint;
    },
    remove: async (owner, id) => find(owner, id) !== undefined && kept.delete(id),
    async rotateSecret(owner, id, secret, oldEndAt) {
      const found = find(owner, id);
      if (!found) return undefined;
      const old = found.endpoint.signatures.map((one) => ({ ...one, endsAt: oldEndAt }));
      found.endpoint = { ...found.endpoint, signatures: [signature(secret), ...old] };
      return { endpoint: found.endpoint, ...told(secret) };
    },
    sendTest: async (owner, id) => active(owner, id) && "evt_test",
    replay: async (owner, id) => active(owner, id) && { deliveries: 0 },
    listDeliveries: async (owner, id) => find(owner, id) && { items: [] },
  };
}
