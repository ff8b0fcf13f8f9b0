import type { EventType } from "./event-types.js";
import type { DeliveryRecord, Page } from "./records.js";
import type { SignatureKind } from "./webhook-secret.js";

/** thin: ids, verdict and where to fetch the rest. full: the report or decision itself as well. */
export const BODIES = ["thin", "full"] as const;
export type BodyKind = (typeof BODIES)[number];

/** gone: it answered 410. failing: nothing got through for too long. asked: its owner said so. */
export type DisabledBecause = "gone" | "failing" | "asked";

/** A receiver that a client registered. */
export interface Endpoint {
  readonly id: string;
  readonly url: string;
  readonly description: string;
  /** Absent: every type, those to come included. */
  readonly events?: readonly EventType[];
  readonly body: BodyKind;
  readonly state: "active" | "disabled";
  readonly disabledAt?: Date;
  readonly disabledBecause?: DisabledBecause;
  /** The first failure since the last success. */
  readonly failingSince?: Date;
  readonly createdAt: Date;
  /** What signs now, newest first: without the secrets. */
  readonly signatures: readonly LiveSecret[];
}

export interface LiveSecret {
  readonly kind: SignatureKind;
  /** whpk_…, of a v1a. */
  readonly publicKey?: string;
  readonly createdAt: Date;
  readonly endsAt?: Date;
}

export interface EndpointSettings {
  readonly url: string;
  readonly description: string;
  readonly events?: readonly EventType[];
  readonly body: BodyKind;
}

/** `secret`: the holder's own, for v1; made where it is left out. */
export interface NewSecret {
  readonly kind: SignatureKind;
  readonly secret?: string;
}

/** The secret is told here and never again; of a v1a there is none to tell. */
export interface WithSecret {
  readonly endpoint: Endpoint;
  readonly secret?: string;
}

/** `events: null` means every type again. */
export type EndpointChange = Partial<Omit<EndpointSettings, "events">> & {
  readonly events?: readonly EventType[] | null;
  readonly state?: "active" | "disabled";
};

export interface Replayed {
  readonly deliveries: number;
  /** Events from here on are still to be replayed: there were too many for one call. */
  readonly continueSince?: Date;
}

export const ENDPOINTS_OF_OWNER = 20;
export const LIVE_SECRETS_OF_ENDPOINT = 5;

export class TooMany extends Error {
  override readonly name = "TooMany";
}
export class EndpointDisabled extends Error {
  override readonly name = "EndpointDisabled";
}

/** Another owner's endpoint is as unknown as one that never was: undefined. `by`: for the audit trail. */
export interface Endpoints {
  /** Throws `TooMany`. */
  create(owner: string, endpoint: EndpointSettings, secret: NewSecret, by: string): Promise<WithSecret>;
  list(owner: string): Promise<readonly Endpoint[]>;
  get(owner: string, id: string): Promise<Endpoint | undefined>;
  update(owner: string, id: string, change: EndpointChange, by: string): Promise<Endpoint | undefined>;
  remove(owner: string, id: string, by: string): Promise<boolean>;
  /** The secrets until now sign on until `oldEndAt`. Throws `TooMany`. */
  rotateSecret(
    owner: string,
    id: string,
    secret: NewSecret,
    oldEndAt: Date,
    by: string,
  ): Promise<WithSecret | undefined>;
  /** Gives the id of the event. Throws `EndpointDisabled`. */
  sendTest(owner: string, id: string): Promise<string | undefined>;
  /** Sends again what happened since, as far as the endpoint's choice of types lets it through. Throws `EndpointDisabled`. */
  replay(owner: string, id: string, since: Date, onlyUndelivered: boolean): Promise<Replayed | undefined>;
  /** Newest first. Throws `BadCursor`. */
  listDeliveries(owner: string, id: string, limit: number, cursor?: string): Promise<Page<DeliveryRecord> | undefined>;
}
