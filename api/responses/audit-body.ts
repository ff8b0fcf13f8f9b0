import { z } from "zod";
import { AUDIT_KINDS } from "../../worker/store/audit-chain.js";

const auditEntrySchema = z
  .strictObject({
    owner: z.string(),
    number: z.int(),
    at: z.iso.datetime(),
    actor: z.string(),
    kind: z.enum(AUDIT_KINDS),
    subject: z.string(),
    details: z.record(z.string(), z.unknown()),
    previous: z.string(),
    hash: z.string(),
  })
  .meta({
    id: "AuditEntry",
    description:
      "`hash` is the SHA-256 of the canonical JSON (RFC 8785) of all other members, and `previous` is the hash of the entry " +
      "before. Keep the last number and hash elsewhere to be able to show that nothing was cut off.",
  });

export const auditSchema = z.strictObject({ items: z.array(auditEntrySchema), next: z.int() });
