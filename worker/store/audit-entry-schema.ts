import { z } from "zod";
import { AUDIT_KINDS } from "./audit-chain.js";

/** An entry of the audit trail as it is given out, and as it is saved. */
export const auditEntrySchema = z.strictObject({
  owner: z.string(),
  number: z.int(),
  at: z.string(),
  actor: z.string(),
  kind: z.enum(AUDIT_KINDS),
  subject: z.string(),
  details: z.record(z.string(), z.unknown()),
  previous: z.string(),
  hash: z.string(),
});
