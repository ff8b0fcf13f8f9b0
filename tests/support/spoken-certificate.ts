import { readFile } from "node:fs/promises";
import type { Certificate } from "../../core/certificate/certificate.js";
import { buildReport } from "../../core/report/build-report.js";
import type { Verifier } from "../../worker/jobs/verify-documents.js";
import { reading, statement } from "./heat.js";

/**
 * The real judge behind a reader for tests: a document is lines of "heat C issuer", such as "N4182 0.021 Norrvik". It spares
 * tests of what happens around judging the children that read real formats.
 */
export function spokenVerifier(): Verifier {
  return {
    read: async (path) => ({
      ok: true,
      document: { reader: "text", tables: [], doubts: [], notes: (await readFile(path, "utf8")).trim().split("\n") },
    }),
    crop: async () => ({ ok: true, pictures: [] }),
    recognise: ({ notes = [] }, document): Certificate => {
      const lines = notes.map((line) => line.split(" "));
      const issuer = lines[0]?.[2];
      return {
        heats: lines.map(([heat = "", carbon = ""], index) => ({
          heat: statement(heat),
          readings: [reading("C", carbon, { evidence: { document, line: index + 1, column: 2 } })],
          claims: [],
          product: {},
        })),
        ...(issuer !== undefined && { issuer: statement(issuer) }),
        doubts: [],
      };
    },
    buildReport,
    library: { grades: [], tolerances: [] },
  };
}
