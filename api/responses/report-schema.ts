import { z } from "zod";
import type { Report } from "../../core/report/report.js";
import { OUTCOMES, UNDETERMINED_REASONS } from "../../core/verdict/finding.js";
import type { Promised } from "./same-type.js";

/** `.optional()` would allow a present undefined, which JSON cannot say; the report's types forbid it as well. */
const maybe = <Schema extends z.ZodType>(schema: Schema) => z.exactOptional(schema);
const text = z.string();
const texts = z.array(text).readonly();
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

export const outcomeSchema = z.enum(OUTCOMES).meta({
  id: "Outcome",
  description: "Worst first: fail, undetermined, pass, not-applicable. Nothing judged is not a pass.",
});

const document = {
  document: z.int().nonnegative().meta({ description: "Position in the report's documents, from 0" }),
};
const box = z.tuple([z.number(), z.number(), z.number(), z.number()]).readonly();
const placeSchema = z.union([
  z.strictObject({ page: z.int(), box }),
  z.strictObject({ sheet: text, cell: text }),
  z.strictObject({ line: z.int(), column: z.int() }),
  z.strictObject({ pointer: text }),
]);
const evidenceSchema = z
  .union([
    z.strictObject({ ...document, page: z.int(), box }),
    z.strictObject({ ...document, sheet: text, cell: text }),
    z.strictObject({ ...document, line: z.int(), column: z.int() }),
    z.strictObject({ ...document, pointer: text }),
  ])
  .meta({
    id: "Evidence",
    description: "Where a value was read: page and box, sheet and cell, line and column, or JSON Pointer.",
  });

const doubtSchema = z
  .strictObject({
    code: text,
    message: text,
    evidence: maybe(evidenceSchema),
    heat: maybe(text),
    quantity: maybe(text),
  })
  .meta({ id: "Doubt", description: "Something seen that could not be read or placed." });

const readingSchema = z
  .strictObject({
    id: z.int().positive(),
    quantity: text,
    analysis: maybe(text),
    printed: text.meta({ description: "The document's own text" }),
    stated: maybe(text),
    value: text.meta({ description: "A decimal as text: digits count" }),
    unit: text,
    bound: maybe(text),
    confidence: z.number().min(0).max(1),
    evidence: evidenceSchema,
    zone: maybe(z.enum(["base", "weld", "haz"])),
    temperature: maybe(text),
    orientation: maybe(text),
    specimen: maybe(text),
    striker: maybe(z.number()),
    test: maybe(text),
    statistic: maybe(text),
    retest: maybe(z.boolean()),
    notes: maybe(texts),
  })
  .meta({ id: "Reading" });

const earlierReadingSchema = z
  .strictObject({
    quantity: text,
    value: text,
    printed: text,
    submission: text,
    document: z.strictObject({ name: text, sha256, issuer: maybe(text) }),
    place: placeSchema,
  })
  .meta({ id: "EarlierReading", description: "What an earlier submission of the same heat had, and where it stood." });

export const findingSchema = z
  .strictObject({
    outcome: outcomeSchema,
    reason: maybe(z.enum(UNDETERMINED_REASONS)),
    quantity: text,
    zone: maybe(z.enum(["base", "weld", "haz"])),
    readings: z.array(z.int().positive()).readonly(),
    earlier: maybe(z.array(earlierReadingSchema).readonly()),
    judged: maybe(text),
    unit: maybe(text),
    limit: maybe(z.strictObject({ id: text, min: maybe(text), max: maybe(text), unit: text })),
    source: z.strictObject({
      standard: text,
      edition: maybe(text),
      clause: maybe(text),
      known: text,
      verified: z.boolean().meta({
        description:
          "false: the limit or the rule behind it is not verified, so it neither fails a heat nor excuses one by itself",
      }),
    }),
    margin: maybe(text),
    message: text,
    notes: maybe(texts),
  })
  .meta({ id: "Finding", description: "One limit held against its readings." });

const computedSchema = z.strictObject({
  name: text,
  value: text,
  unit: text,
  low: maybe(text.nullable()),
  high: maybe(text.nullable()),
  expression: text,
  source: text,
  notReported: maybe(texts),
  cautions: maybe(texts),
});

const heatSchema = z.strictObject({
  heat: text,
  evidence: maybe(z.array(evidenceSchema).readonly().meta({ description: "Where the documents name the heat" })),
  verdict: outcomeSchema,
  grades: z.array(z.strictObject({ id: text, standard: text, edition: text, name: text, chosen: text })).readonly(),
  product: maybe(z.strictObject({ form: maybe(text), thickness: maybe(text), condition: maybe(text) })),
  readings: z.array(readingSchema).readonly(),
  findings: z.array(findingSchema).readonly(),
  computed: maybe(z.array(computedSchema).readonly()),
  hints: maybe(z.array(z.strictObject({ message: text, restsOn: text })).readonly()),
});

const documentSchema = z.strictObject({
  name: text,
  sha256,
  reader: text,
  pages: maybe(z.int()),
  type: maybe(text),
  number: maybe(text),
  issuer: maybe(text),
  date: maybe(text),
  order: maybe(text),
  notes: maybe(texts),
  doubts: z.array(doubtSchema).readonly(),
});

/** The report (JSON, version 1) as the wire promises it. */
export const reportSchema = z
  .strictObject({
    report: z.literal(1),
    verdict: outcomeSchema,
    requirement: z.strictObject({ name: text, digest: text }).nullable(),
    documents: z.array(documentSchema).readonly(),
    heats: z.array(heatSchema).readonly(),
    corrections: maybe(z.strictObject({ by: text, date: text, items: z.int() })),
    library: z.array(z.strictObject({ id: text, digest: text })).readonly(),
    cautions: texts,
  })
  .meta({ id: "Report", description: "Canonical JSON (RFC 8785); its SHA-256 is the ETag." });

true satisfies Promised<z.infer<typeof reportSchema>, Report>;
