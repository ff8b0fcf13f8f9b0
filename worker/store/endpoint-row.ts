import type { BodyKind, DisabledBecause, Endpoint, LiveSecret } from "./endpoints.js";
import type { EventType } from "./event-types.js";

/** For a query whose endpoint table is named `p`. */
export const ENDPOINT_COLUMNS =
  "p.id, p.url, p.description, p.events, p.body, p.state, p.disabled_at, p.disabled_because, p.failing_since, p.created_at";

export interface EndpointRow {
  readonly id: string;
  readonly url: string;
  readonly description: string;
  readonly events: readonly EventType[] | null;
  readonly body: BodyKind;
  readonly state: "active" | "disabled";
  readonly disabled_at: Date | null;
  readonly disabled_because: DisabledBecause | null;
  readonly failing_since: Date | null;
  readonly created_at: Date;
}

export function readEndpointRow(row: EndpointRow, signatures: readonly LiveSecret[]): Endpoint {
  return {
    id: row.id,
    url: row.url,
    description: row.description,
    body: row.body,
    state: row.state,
    createdAt: row.created_at,
    signatures,
    ...(row.events && { events: row.events }),
    ...(row.disabled_at && { disabledAt: row.disabled_at }),
    ...(row.disabled_because && { disabledBecause: row.disabled_because }),
    ...(row.failing_since && { failingSince: row.failing_since }),
  };
}
