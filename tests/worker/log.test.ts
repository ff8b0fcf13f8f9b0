import { pino } from "pino";
import { expect, test } from "vitest";
import { createLog, LOG_OPTIONS } from "../../worker/log.js";

test("secrets and contents that were handed to the log by mistake do not come out", () => {
  const lines: string[] = [];
  const log = pino(LOG_OPTIONS, { write: (line: string) => void lines.push(line) });
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
