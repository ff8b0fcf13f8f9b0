import fc from "fast-check";
import { expect, test } from "vitest";
import { framesIn, requestEnd } from "../../../worker/store/wire-frames.js";

const frame = (type: string, body: string) => {
  const bytes = Buffer.alloc(5 + body.length);
  bytes.write(type, 0, "latin1");
  bytes.writeUInt32BE(4 + body.length, 1);
  bytes.write(body, 5, "latin1");
  return bytes;
};

// Parse, Bind, Describe and Execute wait for what ends them: Sync (or Flush), as Query and Terminate end themselves.
const request = fc
  .tuple(
    fc.array(fc.constantFrom("P", "B", "D", "E"), { maxLength: 4 }),
    fc.constantFrom("S", "H", "Q", "X"),
    fc.string(),
  )
  .map(([begun, end, body]) => Buffer.concat([...begun.map((type) => frame(type, "body\0")), frame(end, body)]));

test("requests are cut where they end, however the bytes arrive", () => {
  fc.assert(
    fc.property(fc.array(request, { minLength: 1, maxLength: 4 }), fc.integer({ min: 1, max: 9 }), (requests, step) => {
      const bytes = Buffer.concat(requests);
      const cut: Buffer[] = [];
      let received = Buffer.alloc(0);
      for (let at = 0; at < bytes.length; at += step) {
        received = Buffer.concat([received, bytes.subarray(at, at + step)]);
        for (let end = requestEnd(received, true); end > 0; end = requestEnd(received, true)) {
          cut.push(received.subarray(0, end));
          received = received.subarray(end);
        }
      }
      expect(cut.map(String)).toEqual(requests.map(String));
      expect(received).toHaveLength(0);
    }),
  );
});

test("the first message has no type, only a length", () => {
  const startup = Buffer.from([0, 0, 0, 9, 0, 3, 0, 0, 0]);
  expect(requestEnd(startup.subarray(0, 3), false)).toBe(0);
  expect(requestEnd(startup.subarray(0, 8), false)).toBe(0);
  expect(requestEnd(Buffer.concat([startup, frame("Q", "SELECT 1\0")]), false)).toBe(9);
});

test("answers come apart into frames, the last of which says how the transaction stands", () => {
  const frames = [...framesIn(Buffer.concat([frame("A", "note"), frame("C", "SELECT 1\0"), frame("Z", "T")]))];
  expect(frames.map(({ type, transactionStatus }) => [type, transactionStatus])).toEqual([
    ["A", undefined],
    ["C", undefined],
    ["Z", "T"],
  ]);
});
