import { z } from "zod";
import { auditEntrySchema } from "../../worker/store/audit-entry-schema.js";

const entrySchema = auditEntrySchema.extend({ at: z.iso.datetime() }).meta({
  id: "AuditEntry",
  description:
    "`hash` is the SHA-256 of the canonical JSON (RFC 8785) of all other members, and `previous` is the hash of the entry " +
    "before. Keep the last number and hash elsewhere to be able to show that nothing was cut off.",
});

export const auditSchema = z.strictObject({ items: z.array(entrySchema), next: z.int() });
