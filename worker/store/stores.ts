import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import type { DocumentStore, Records } from "./records.js";
import type { Sealer } from "./signing/sealer.js";

/** What api and worker share, whatever it is made of. */
export interface Stores {
  readonly pool: pg.Pool;
  readonly records: Records;
  readonly documents: DocumentStore;
  readonly queue: WorkQueue;
  /** Opens what is kept secret in the records. */
  readonly sealer: Sealer;
  close(): Promise<void>;
}
