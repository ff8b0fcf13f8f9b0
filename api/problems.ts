/** One of the things a refusal points at: a place in what was sent, and what is wrong there. */
export interface ProblemError {
  /** JSON Pointer (RFC 6901) into the JSON that was sent, or the name of a part, header or parameter. */
  readonly pointer: string;
  readonly detail: string;
}

interface ProblemKind {
  readonly status: number;
  readonly title: string;
  /** Shown on the page of the problem's type: when it happens and what to do. */
  readonly advice: string;
}

/** Every refusal that this service gives. RFC 9457: `type` is /problems/<code>, and that page shows the advice. */
export const PROBLEMS = {
  "path-unknown": {
    status: 404,
    title: "There is nothing at this address",
    advice: "Compare the path with /v1/openapi.json. Paths are case-sensitive and carry no closing slash.",
  },
  "path-encoding": {
    status: 400,
    title: "The address cannot be decoded",
    advice: "A percent sign must be followed by two hexadecimal digits that give valid UTF-8, and never by 00.",
  },
  "method-not-allowed": {
    status: 405,
    title: "This address does not take that method",
    advice: "The Allow header names the methods that it takes.",
  },
  "not-acceptable": {
    status: 406,
    title: "This cannot be given in the form asked for",
    advice: "Ask for one of the media types named in the answer, or leave the Accept header out.",
  },
  "request-broken": {
    status: 400,
    title: "The request is not well-formed HTTP",
    advice: "The request line, headers or body framing could not be read. Look at the client or a proxy between.",
  },
  "request-aborted": {
    status: 400,
    title: "The request ended before all of it had arrived",
    advice: "Nothing was kept. Send it again.",
  },
  "request-timeout": {
    status: 408,
    title: "The request did not arrive in time",
    advice: "Headers must arrive within 15 seconds and the whole request within 5 minutes. Send it again.",
  },
  "headers-too-large": {
    status: 431,
    title: "The request's headers are too large",
    advice: "All headers together may have 16 kB. Cookies are not needed here.",
  },
  "parameter-invalid": {
    status: 400,
    title: "A query parameter or header has a value that does not fit",
    advice: "errors[] names each one and what is allowed.",
  },
  "key-missing": {
    status: 401,
    title: "This needs an API key",
    advice:
      "Send it as Authorization: Bearer hg_live_…. Keys are made with heatgate key create, or by an admin key over POST /v1/keys.",
  },
  "key-unknown": {
    status: 401,
    title: "The API key is not valid",
    advice: "It was mistyped, has expired or was revoked. Ask whoever made it for another.",
  },
  "scope-missing": {
    status: 403,
    title: "The API key does not allow this",
    advice: "The detail names the scope that is needed. A key's scopes are set when it is made.",
  },
  "cross-site": {
    status: 403,
    title: "A page of another site may not do this",
    advice: "Sign in at this service's own page, or send the API key as an Authorization header.",
  },
  "key-id-unknown": {
    status: 404,
    title: "There is no live key with this id",
    advice: "GET /v1/keys lists the ids.",
  },
  "endpoint-unknown": {
    status: 404,
    title: "There is no such endpoint",
    advice: "GET /v1/endpoints lists the ids.",
  },
  "endpoint-invalid": {
    status: 422,
    title: "What was sent about the endpoint has faults",
    advice: "errors[] points at each; /docs shows every field of every operation.",
  },
  "endpoint-disabled": {
    status: 409,
    title: "The endpoint is disabled",
    advice: 'PATCH it with { "state": "active" } first, then replay what it missed.',
  },
  "too-many-endpoints": {
    status: 409,
    title: "The client has as many endpoints as it may have",
    advice: "Delete one that is no longer needed, or let one receiver pass events on.",
  },
  "too-many-secrets": {
    status: 409,
    title: "The endpoint has as many live secrets as it may have",
    advice: "Wait until an old one has ended; GET the endpoint to see when.",
  },
  "signing-key-unknown": {
    status: 404,
    title: "There is no signing key with this id that is still trusted",
    advice: "GET /.well-known/jwks.json lists the ids as kid.",
  },
  "key-invalid": {
    status: 422,
    title: "The key to be made has faults",
    advice: "errors[] points at each. A key is { client, name, scopes, expiresAt? }.",
  },
  "too-many-keys": {
    status: 409,
    title: "The client has two live keys already",
    advice: "Two can be live so that one can take over from the other. Revoke the one that is no longer used.",
  },
  "submission-unknown": {
    status: 404,
    title: "There is no such submission",
    advice: "Use the id from the Location header of the answer to POST /v1/submissions.",
  },
  "submission-erased": {
    status: 410,
    title: "The submission was erased",
    advice:
      "What is left of it is at …/erasure and in the audit trail. Hand the documents in again if they are needed.",
  },
  "erasure-unknown": {
    status: 404,
    title: "The submission was not erased",
    advice: "It is there; GET it without /erasure.",
  },
  "erasure-invalid": {
    status: 422,
    title: "The request to erase has faults",
    advice: "errors[] points at each. An erasure names person and reason, and may have a reference.",
  },
  "document-erased": {
    status: 410,
    title: "The bytes of the documents are not kept any more",
    advice: "Report and readings are there. Hand the documents in again where they have to be read anew.",
  },
  "document-unknown": {
    status: 404,
    title: "The submission has no such document",
    advice: "Documents are addressed by their SHA-256 in lower-case hexadecimal; the submission lists them.",
  },
  "report-not-ready": {
    status: 409,
    title: "The submission is still being worked on",
    advice: "Ask again after Retry-After, or send Prefer: wait=20 to be answered as soon as the report is there.",
  },
  "submission-failed": {
    status: 409,
    title: "The submission came to no report",
    advice: "The detail says why and what to do. This is no verdict on the metal.",
  },
  "document-missing": {
    status: 400,
    title: "No document was sent",
    advice: "Send the document as the body with its Content-Type, or one or more multipart parts named document.",
  },
  "document-empty": {
    status: 422,
    title: "A document is empty",
    advice: "The file has no bytes. Export or save it again and look at its size before sending.",
  },
  "document-too-large": {
    status: 413,
    title: "A document is too large",
    advice: "Send a smaller file: for scans 300 dpi in grey is enough; for workbooks leave pictures out.",
  },
  "request-too-large": {
    status: 413,
    title: "The request is too large",
    advice: "Split the documents over several submissions.",
  },
  "too-many-documents": {
    status: 413,
    title: "There are too many documents in one submission",
    advice: "Split them over several submissions; keep the documents of one heat together.",
  },
  "type-not-read": {
    status: 415,
    title: "Documents of this type cannot be read",
    advice:
      "Send PDF, XLSX, CSV, JSON, XML, a scan as PNG, JPEG or TIFF, or a ZIP of them. Save old .xls workbooks as .xlsx and remove a password first.",
  },
  "type-not-as-declared": {
    status: 415,
    title: "A document is not what its Content-Type says",
    advice: "Correct the Content-Type, or send application/octet-stream and let the bytes decide.",
  },
  "archive-refused": {
    status: 422,
    title: "The archive cannot be unpacked",
    advice:
      "errors[] names the file at fault: damaged, encrypted, nested, name, duplicate or link. Send a plain ZIP of the documents, or the documents as parts.",
  },
  "json-broken": {
    status: 400,
    title: "The JSON cannot be parsed, or says a name twice in one object",
    advice:
      "The detail says where the parser stopped; errors[] points at the name that stands twice, of which one must go.",
  },
  "body-encoding": {
    status: 415,
    title: "The body is in a character set or compression that is not read here",
    advice: "Send JSON as UTF-8 without Content-Encoding.",
  },
  "multipart-broken": {
    status: 400,
    title: "The multipart body cannot be read",
    advice:
      "Check the boundary in the Content-Type and that the body ends with it. HTTP libraries do this by themselves.",
  },
  "part-unknown": {
    status: 400,
    title: "A multipart part has a name that is not known here",
    advice: "Parts are named document (repeatable), requirement, callback and tags.",
  },
  "requirement-invalid": {
    status: 422,
    title: "The requirement has faults",
    advice: 'errors[] points at each fault with a JSON Pointer. Numbers are text, so that digits count: "0.030".',
  },
  "requirement-unknown": {
    status: 404,
    title: "There is no such requirement",
    advice: "GET /v1/requirements lists them. A version is named after an @: t-204-shell-plate@3.",
  },
  "requirement-archived": {
    status: 409,
    title: "The requirement is archived",
    advice: "Choose another, or bring it back by POST /v1/requirements/{slug}/restore. Its versions can still be read.",
  },
  "version-outdated": {
    status: 412,
    title: "The requirement has been changed meanwhile",
    advice: "Read it again, take its ETag as If-Match, and put your change over that.",
  },
  "grade-unknown": {
    status: 404,
    title: "There is no such grade",
    advice: "GET /v1/grades?text= finds grades by what people call them.",
  },
  "heat-unknown": {
    status: 404,
    title: "The submission's report has no such heat",
    advice: "Name the heat as the report does, after the report is there.",
  },
  "comparison-invalid": {
    status: 422,
    title: "The comparison has faults",
    advice:
      "errors[] points at each. A comparison names a service temperature with its unit, and submissions with their heats.",
  },
  "decision-invalid": {
    status: 422,
    title: "The decision has faults",
    advice: "errors[] points at each. A decision names heat, action, person and reason, and may have a reference.",
  },
  "dry-run-invalid": {
    status: 422,
    title: "The dry run has faults",
    advice: "errors[] points at each. A dry run is { requirement, heat? }; the requirement as JSON or by its name.",
  },
  "dry-run-unknown": {
    status: 404,
    title: "There is no such dry run",
    advice:
      "Use the Location of the answer to POST …/dry-runs. Dry runs are kept for a week, or as long as the operator says.",
  },
  "trial-not-ready": {
    status: 409,
    title: "A worker is still busy with the answer",
    advice: "Ask again after Retry-After.",
  },
  "trial-failed": {
    status: 409,
    title: "The question could not be answered",
    advice: "The detail says why. The submission and its report are as they were.",
  },
  "corrections-invalid": {
    status: 422,
    title: "The corrections have faults",
    advice:
      "errors[] points at each. Take document, evidence and quantity from the report; leave value out to confirm it.",
  },
  "corrected-already": {
    status: 409,
    title: "This submission is itself a correction",
    advice: "Send all corrections together to the submission that was corrected first; the detail names it.",
  },
  "callback-invalid": {
    status: 422,
    title: "The callback has faults",
    advice:
      'errors[] points at each. A callback is { "url": "https://…", "secret": "whsec_…" }; the secret may be left out.',
  },
  "callback-refused": {
    status: 422,
    title: "Callbacks to this address are not made",
    advice: "Use https on an allowed port and a host name that is public, without user name or password in it.",
  },
  "idempotency-key-in-use": {
    status: 409,
    title: "The first request with this Idempotency-Key is still being taken in",
    advice: "Send it again after Retry-After; it will be answered with what the first one led to.",
  },
  "idempotency-key-reused": {
    status: 422,
    title: "This Idempotency-Key was used for another submission",
    advice: "A key belongs to one content for 24 hours. Make a new key for each new submission.",
  },
  "cursor-unknown": {
    status: 400,
    title: "This cursor was not given out here",
    advice: "Take the cursor from `next` of the page before, and leave it out for the first page.",
  },
  "receiver-missing": {
    status: 409,
    title: "There is nothing to deliver",
    advice: "The submission has no callback, or is not finished yet.",
  },
  "tags-invalid": {
    status: 422,
    title: "The tags have faults",
    advice: 'Tags are one flat JSON object of texts, such as { "order": "4500012", "supplier": "…" }.',
  },
  "quota-exceeded": {
    status: 429,
    title: "The key has used up what it may send in a minute",
    advice:
      "Send it again after Retry-After. RateLimit-Policy says how much a minute holds, RateLimit what is left of it.",
  },
  "queue-full": {
    status: 503,
    title: "Too much work is waiting",
    advice: "Nothing was accepted. Send it again after Retry-After.",
  },
  starting: {
    status: 503,
    title: "The service is still starting",
    advice: "Send it again after Retry-After.",
  },
  "store-unavailable": {
    status: 503,
    title: "The submission cannot be kept just now",
    advice: "Nothing was accepted. Send it again after Retry-After.",
  },
  fault: {
    status: 500,
    title: "The service made a mistake",
    advice: "The fault is in the log under the request id. Nothing that was accepted before is lost.",
  },
} as const satisfies Record<string, ProblemKind>;

export type ProblemCode = keyof typeof PROBLEMS;

export interface ProblemExtras {
  readonly detail?: string;
  readonly errors?: readonly ProblemError[];
  /** Sent beside the body: Allow, Retry-After. */
  readonly headers?: Readonly<Record<string, string>>;
}

/** A refusal by name. Thrown anywhere below a route and answered in one place, `answerProblem`. */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly errors: readonly ProblemError[] | undefined;
  readonly headers: Readonly<Record<string, string>>;

  constructor(code: ProblemCode, extras: ProblemExtras = {}) {
    super(extras.detail ?? PROBLEMS[code].title);
    this.name = "Problem";
    this.code = code;
    this.errors = extras.errors;
    this.headers = extras.headers ?? {};
  }
}

export interface ProblemBody {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  /** What happened this time. */
  readonly detail: string;
  /** What to do about it. */
  readonly advice: string;
  readonly code: ProblemCode;
  readonly errors?: readonly ProblemError[];
  readonly requestId?: string;
}

export function problemBody(problem: Problem, requestId?: string): ProblemBody {
  const kind = PROBLEMS[problem.code];
  return {
    type: `/problems/${problem.code}`,
    title: kind.title,
    status: kind.status,
    detail: problem.message,
    advice: kind.advice,
    code: problem.code,
    ...(problem.errors ? { errors: problem.errors } : {}),
    ...(requestId === undefined ? {} : { requestId }),
  };
}
