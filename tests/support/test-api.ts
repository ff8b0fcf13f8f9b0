import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import express, { type Express } from "express";
import { pino } from "pino";
import { Registry } from "prom-client";
import { expect } from "vitest";
import { createApp } from "../../api/app.js";
import type { AppDeps } from "../../api/deps.js";
import { FACES } from "../../api/faces.js";
import { openapiDocument } from "../../api/openapi/document.js";
import type { Report } from "../../core/report/report.js";
import { LOG_OPTIONS } from "../../worker/log.js";
import { type Keys, SCOPES } from "../../worker/store/keys.js";
import type { Records } from "../../worker/store/records.js";
import { checkAnswers } from "./check-answers.js";
import { folderDocuments } from "./folder-documents.js";
import { memoryDecisions } from "./memory-decisions.js";
import { memoryEndpoints } from "./memory-endpoints.js";
import { memoryKeys } from "./memory-keys.js";
import { MemoryRecords } from "./memory-records.js";
import { memoryRequirements } from "./memory-requirements.js";
import { memorySigningKeys } from "./memory-signing-keys.js";
import { memoryTrials } from "./memory-trials.js";

export interface TestApi {
  readonly app: Express;
  /** What the app was made of. */
  readonly deps: AppDeps;
  readonly records: MemoryRecords;
  readonly keys: Keys;
  /** Names of files: uploads in progress, documents kept. */
  uploads(): readonly string[];
  documents(): readonly string[];
  logged(): string;
  /** Takes the folder away, and fails if any answer since the start was not as the OpenAPI document says. */
  remove(): void;
}

const CLOSED_DOCUMENT = openapiDocument(FACES, { closed: true });

/**
 * The app over records in memory and documents in a temporary folder. A request without an Authorization header is sent
 * with a key of Tarnholm's that may do everything, unless `isSignedIn` says otherwise.
 */
export function testApi(change: Partial<AppDeps> = {}, { isSignedIn = true } = {}): TestApi {
  const folder = mkdtempSync(join(tmpdir(), "heatgate-api-"));
  const uploadFolder = join(folder, "uploads");
  const documentFolder = join(folder, "documents");
  mkdirSync(uploadFolder);
  mkdirSync(documentFolder);
  const records = new MemoryRecords();
  const lines: string[] = [];
  const keys = change.keys ?? memoryKeys();
  const ours = keys.create({ client: "tarnholm", name: "tests", scopes: SCOPES }, "tests");
  const deps: AppDeps = {
    keys,
    signingKeys: memorySigningKeys(),
    endpoints: memoryEndpoints(),
    requirements: memoryRequirements(),
    decisions: memoryDecisions(),
    trials: memoryTrials(),
    listAudit: async () => [],
    listHeats: async () => ({ items: [] }),
    listHeatReports: async () => [],
    library: { grades: [], tolerances: [] },
    libraryDigest: "library",
    publicUrl: "http://heatgate.example",
    records: records as unknown as Records,
    documents: folderDocuments(documentFolder),
    eraseBytes: async () => {},
    logger: pino({ ...LOG_OPTIONS, level: "trace" }, { write: (line) => lines.push(line) }),
    registry: new Registry(),
    uploadFolder,
    limits: { documentBytes: 1_000_000, submissionBytes: 2_000_000, documents: 5 },
    rates: { requestsPerMinute: 10_000, bytesPerMinute: 1_000_000_000 },
    backlog: 1_000,
    callbackProblem: (url) => (url.startsWith("https://receiver.example/") ? undefined : "It is not the receiver."),
    faces: FACES,
    ...change,
  };
  const undocumented: string[] = [];
  const document = CLOSED_DOCUMENT;
  const app = express().disable("x-powered-by");
  app.use(
    checkAnswers(document, (what) => undocumented.push(what)),
    async (request, _response, next) => {
      if (isSignedIn) request.headers.authorization ??= `Bearer ${(await ours).key}`;
      next();
    },
    createApp(deps),
  );
  return {
    app,
    deps,
    keys,
    records,
    uploads: () => readdirSync(uploadFolder),
    documents: () => readdirSync(documentFolder),
    logged: () => lines.join(""),
    remove: () => {
      rmSync(folder, { recursive: true });
      expect(undocumented).toEqual([]);
    },
  };
}

/** A small finished report, as `finish` takes it. */
export function finishedReport(verdict: Report["verdict"] = "fail") {
  const report: Report = {
    report: 1,
    verdict,
    requirement: null,
    documents: [],
    heats: [
      {
        heat: "H4471",
        verdict,
        grades: [],
        readings: [],
        findings: [
          {
            outcome: verdict,
            quantity: "C",
            readings: [],
            judged: "0.034",
            unit: "%",
            source: { standard: "ASTM A240/A240M", clause: "Table 1", known: "seen in 3 sources", verified: true },
            message: "Carbon 0.034 % is above the 0.030 % ceiling.",
          },
        ],
      },
    ],
    library: [],
    cautions: [],
  };
  const json = JSON.stringify(report);
  const heats = { fail: 0, undetermined: 0, pass: 0, "not-applicable": 0, [verdict]: 1 };
  return { json, digest: createHash("sha256").update(json).digest("hex"), verdict, heats };
}
