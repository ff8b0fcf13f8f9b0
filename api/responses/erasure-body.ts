import { z } from "zod";
import type { Erasure } from "../../worker/store/records.js";

export const erasureSchema = z
  .strictObject({
    submission: z.string(),
    handedInAt: z.iso.datetime(),
    erasedAt: z.iso.datetime(),
    correctionOf: z.string().exactOptional(),
    documents: z.array(z.string()).meta({ description: "SHA-256 of each; the bytes are gone" }),
    reportDigest: z.string().exactOptional().meta({ description: "SHA-256 of the report, where there was one" }),
    person: z.string().meta({ description: "Who answers for it; heatgate where the time of keeping was over" }),
    key: z.string().exactOptional().meta({ description: "Name of the key that it was asked with" }),
    reason: z.string(),
    reference: z.string().exactOptional(),
  })
  .meta({
    id: "Erasure",
    description: "All that is left of an erased submission, beside its entries in the audit trail",
  });

export function erasureBody({ handedInAt, erasedAt, keyName, ...erasure }: Erasure): z.infer<typeof erasureSchema> {
  return {
    ...erasure,
    documents: [...erasure.documents],
    handedInAt: handedInAt.toISOString(),
    erasedAt: erasedAt.toISOString(),
    ...(keyName !== undefined && { key: keyName }),
  };
}
