import type { Logger } from "pino";
import type { Registry } from "prom-client";
import type { Library } from "../core/grades/grade.js";
import type { Report } from "../core/report/report.js";
import type { SpotPicture } from "../core/report/spot-picture.js";
import type { AuditEntry } from "../worker/store/audit-chain.js";
import type { Decisions } from "../worker/store/decisions.js";
import type { Endpoints } from "../worker/store/endpoints.js";
import type { ListHeatReports } from "../worker/store/heat-reports.js";
import type { ListHeats } from "../worker/store/heats.js";
import type { Keys } from "../worker/store/keys.js";
import type { DocumentStore, Records } from "../worker/store/records.js";
import type { Requirements } from "../worker/store/requirements.js";
import type { SigningKeys } from "../worker/store/signing/signing-keys.js";
import type { Trials } from "../worker/store/trials.js";
import type { UploadLimits } from "./config.js";
import type { RateRules } from "./middleware/limit-rate.js";

/** Draws a finished report in one form. */
export interface Face {
  /** For ?format=, where a link has to say it. */
  readonly name: string;
  readonly mediaType: string;
  /** It shows what stands in the documents. */
  readonly isPictured?: boolean;
  /** `digest`: SHA-256 of the report as stored, so that a printed face can name what it was drawn from. */
  render(
    report: Report,
    digest: string,
    pictures: readonly SpotPicture[],
  ): string | Uint8Array | Promise<string | Uint8Array>;
}

/** Everything the HTTP front works with, built once by main.ts and handed down. */
export interface AppDeps {
  readonly records: Records;
  readonly documents: DocumentStore;
  /** Removes these bytes from the document store, unless somebody needs them. What fails is left to the worker. */
  eraseBytes(sha256s: readonly string[]): Promise<void>;
  readonly keys: Keys;
  readonly signingKeys: SigningKeys;
  readonly endpoints: Endpoints;
  readonly requirements: Requirements;
  readonly decisions: Decisions;
  readonly trials: Trials;
  readonly listHeats: ListHeats;
  readonly listHeatReports: ListHeatReports;
  readonly library: Library;
  /** Of the whole library with its confirmations; changes when a verdict could. */
  readonly libraryDigest: string;
  listAudit(owner: string, after: number, limit: number): Promise<readonly AuditEntry[]>;
  /** How browsers reach this service; https there makes cookies secure. */
  readonly publicUrl: string;
  readonly logger: Logger;
  readonly registry: Registry;
  /** A folder of its own for uploads in progress; on the document store's disk, so that keeping them is a second name. */
  readonly uploadFolder: string;
  readonly limits: UploadLimits;
  readonly rates: RateRules;
  /** Submissions that may wait to be worked on. */
  readonly backlog: number;
  /** What is wrong with a callback's address, as far as can be said before the name is resolved. */
  callbackProblem(url: string): string | undefined;
  /** Forms of the report besides JSON, in the order of preference. */
  readonly faces: readonly Face[];
}
