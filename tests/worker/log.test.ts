import { type Logger, pino } from "pino";
import { beforeEach, expect, test } from "vitest";
import { createLog, LOG_OPTIONS } from "../../worker/log.js";

let lines: string[];
let log: Logger;
beforeEach(() => {
  lines = [];
  log = pino({ ...LOG_OPTIONS, level: "trace" }, { write: (line: string) => void lines.push(line) });
});

const logged = (error: unknown) => {
  log.warn({ err: error }, "said");
  return JSON.parse(lines.at(-1)!).err;
};

test("secrets and contents that were handed to the log by mistake do not come out", () => {
  log.info({
    secret: "PLANTED",
    callback: { url: "https://receiver.example", secret: "PLANTED" },
    documents: ["PLANTED"],
    report: { heats: "PLANTED" },
    requirement: { name: "PLANTED" },
    req: { headers: { authorization: "PLANTED", "x-api-key": "PLANTED", cookie: "PLANTED" } },
  });
  expect(lines).toHaveLength(1);
  expect(lines[0]).toContain("[removed]");
  expect(lines[0]).not.toContain("PLANTED");
});

test("the log has the level that was asked for", () => {
  expect(createLog("warn").level).toBe("warn");
});

/** Shapes of errors as libraries throw them; the real ones are in secrets-in-logs.test.ts. */
const HUNG_ON = {
  body: "PLANTED",
  detail: "Failing row contains (PLANTED).",
  where: "JSON data, line 1: PLANTED",
  parameters: ["PLANTED"],
  command: { name: "auth", args: ["PLANTED"] },
  input: "redis://:PLANTED@redis.example",
  $metadata: { headers: { authorization: "PLANTED" } },
  config: { headers: { authorization: "PLANTED" } },
};

test("of an error come type, message, code and frames, wherever it stands and whatever hangs on it", () => {
  const error = Object.assign(
    new TypeError("it broke", { cause: Object.assign(new Error("below"), HUNG_ON) }),
    HUNG_ON,
    {
      code: "EBROKEN",
    },
  );
  expect(Object.keys(logged(error)).sort()).toEqual(["cause", "code", "message", "stack", "type"]);
  expect(logged(error)).toMatchObject({ type: "TypeError", message: "it broke", code: "EBROKEN" });
  expect(logged(error).stack).toMatch(/^at .*log\.test\.ts:\d+:\d+/);
  expect(logged(error).cause).toMatchObject({ type: "Error", message: "below" });
  log.error(error);
  log.error(error, "with words");
  log.error({ err: error });
  log.error({ other: error }, "said");
  expect(lines.filter((line) => line.includes("it broke")).length).toBe(lines.length);
  expect(lines.join("")).not.toContain("PLANTED");
});

test.each<[string, string, string]>([
  [
    "an address keeps its host",
    "cannot reach redis://:PLANTED@redis.example:6379/0",
    "cannot reach redis://redis.example:6379",
  ],
  [
    "of an address with a strange password nothing stays",
    "at postgres://u:PLA#NTED@h/db?x=1, now",
    "at postgres://[removed] now",
  ],
  [
    "paths and queries of receivers go",
    "POST https://receiver.example/PLANTED?t=PLANTED gave 500",
    "POST https://receiver.example gave 500",
  ],
  ["keys and webhook secrets", "bad key hg_live_PLANTED, whsec_PLANTED", "bad key [removed], [removed]"],
  ["credentials", "sent authorization: Bearer PLANTED", "sent authorization: Bearer [removed]"],
  [
    "JSON that does not parse",
    `Unexpected token 'P', "PLANTED;1" is not valid JSON`,
    "Unexpected token [removed] is not valid JSON",
  ],
  [
    "quotes in quotes",
    `invalid input syntax for type json: "a"PLANTED"b"`,
    "invalid input syntax for type json: [removed]",
  ],
  [
    "a value that looks like a name",
    'invalid input syntax for type uuid: "planted"',
    "invalid input syntax for type uuid: [removed]",
  ],
  [
    "names in the database stay",
    'null value in column "owner" of relation "heat" breaks it',
    'null value in column "owner" of relation "heat" breaks it',
  ],
  ["paths stay", "ENOENT: no such file, open '/data/documents/ab'", "ENOENT: no such file, open '/data/documents/ab'"],
  ["apostrophes are no quotation", "it doesn't, and can't", "it doesn't, and can't"],
])("messages: %s", (_what, message, said) => {
  expect(logged(new Error(message)).message).toBe(said);
});

test("a message of many lines cannot pass as frames", () => {
  const error = new Error('x\n    at PLANTED (no place)\n    at "PLANTED"');
  expect(logged(error).stack).not.toContain("PLANTED");
});

test("what is no error is logged as little", () => {
  expect(logged('a "PLANTED" text')).toEqual({ type: "string", message: "a [removed] text" });
  expect(logged({ secret: "PLANTED" })).toEqual({ type: "object", message: "no error was thrown, but something else" });
  expect(logged(undefined)).toMatchObject({ type: "undefined" });
});
