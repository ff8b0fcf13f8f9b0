import { listAudit } from "../worker/store/audit.js";
import { listHeatReports } from "../worker/store/heat-reports.js";
import { listHeats } from "../worker/store/heats.js";
import { openSigningKeys } from "../worker/store/signing/signing-keys.js";
import { openDecisions } from "../worker/store/sql-decisions.js";
import { openEndpoints } from "../worker/store/sql-endpoints.js";
import { openKeys } from "../worker/store/sql-keys.js";
import { openRequirements } from "../worker/store/sql-requirements.js";
import { openTrials } from "../worker/store/sql-trials.js";
import type { Stores } from "../worker/store/stores.js";
import type { AppDeps } from "./deps.js";

type StoreDeps = Pick<
  AppDeps,
  | "records"
  | "documents"
  | "keys"
  | "signingKeys"
  | "requirements"
  | "decisions"
  | "endpoints"
  | "trials"
  | "listHeats"
  | "listHeatReports"
  | "listAudit"
>;

/** What the HTTP front reads from and writes into the stores. */
export function storeDeps(stores: Omit<Stores, "close">): StoreDeps {
  const { pool, queue, records, documents, sealer } = stores;
  return {
    records,
    documents,
    keys: openKeys(pool),
    signingKeys: openSigningKeys(pool, sealer),
    requirements: openRequirements(pool),
    decisions: openDecisions(pool, queue),
    endpoints: openEndpoints(stores),
    trials: openTrials(pool, queue),
    listHeats: (filter, limit, cursor) => listHeats(pool, filter, limit, cursor),
    listHeatReports: (filter, limit) => listHeatReports(pool, filter, limit),
    listAudit: (owner, after, limit) => listAudit(pool, owner, after, limit),
  };
}
