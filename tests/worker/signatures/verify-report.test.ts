import canonicalize from "canonicalize";
import { describe, expect, test } from "vitest";
import { verifyReport } from "../../../worker/signatures/verify-report.js";
import { newKeyPair, openPrivateKey, signText } from "../../../worker/store/signing/ed25519.js";

const REPORT = {
  report: 1,
  verdict: "fail",
  heats: [{ heat: "H4471", verdict: "fail", value: "0.034", page: [72.5, 1e21, 8.0] }],
  note: "Grün — \u2028 ok",
};
const JSON_TEXT = canonicalize(REPORT)!;

const pair = newKeyPair();
const other = newKeyPair();
const sign = (text: string, { id, privateKey } = pair) => {
  const signature = signText(openPrivateKey(privateKey), text).toString("base64url");
  return JSON.stringify({ algorithm: "Ed25519", keyId: id, signature, reportDigest: "not looked at" });
};
const jwk = ({ id, publicKey } = pair) => ({ kty: "OKP", crv: "Ed25519", kid: id, x: publicKey });
const KEYS = { keys: [jwk(other), jwk()] };

describe("a report is verified", () => {
  test("as it was stored, byte for byte", () => {
    expect(verifyReport(JSON_TEXT, sign(JSON_TEXT), KEYS)).toMatchObject({
      isGood: true,
      isRewritten: false,
      verdict: "fail",
    });
  });

  test.each([
    ["printed with spaces", JSON.stringify(REPORT, undefined, 2)],
    ["with a byte order mark and a closing newline", `\ufeff${JSON_TEXT}\n`],
    ["with its members in another order", JSON.stringify(Object.fromEntries(Object.entries(REPORT).reverse()))],
    [
      "with characters escaped and numbers written another way",
      JSON_TEXT.replace("ü", "\\u00fc").replace("72.5", "7.25e1"),
    ],
  ])("%s", (_, text) => {
    expect(verifyReport(text, sign(JSON_TEXT), KEYS)).toMatchObject({ isGood: true, isRewritten: true });
  });

  test("by a key that was retired", () => {
    const keys = { keys: [{ ...jwk(), retiredAt: "2026-11-25T09:00:00Z" }] };
    expect(verifyReport(JSON_TEXT, sign(JSON_TEXT), keys)).toMatchObject({ isGood: true });
  });
});

describe("a report is not verified", () => {
  test("with any one byte of it changed", () => {
    const bytes = Buffer.from(JSON_TEXT);
    for (let at = 0; at < bytes.length; at++) {
      const changed = Buffer.from(bytes);
      changed[at]! ^= 1;
      expect(verifyReport(changed.toString("utf8"), sign(JSON_TEXT), KEYS).isGood, changed.toString("utf8")).toBe(
        false,
      );
    }
  });

  test.each([
    ["another report's signature", JSON_TEXT, sign("{}"), KEYS, /does not fit/],
    ["a verdict changed", JSON_TEXT.replaceAll("fail", "pass"), sign(JSON_TEXT), KEYS, /does not fit/],
    ["a key that is not published", JSON_TEXT, sign(JSON_TEXT, newKeyPair()), KEYS, /not among the 2/],
    ["no keys at all", JSON_TEXT, sign(JSON_TEXT), { keys: [] }, /not among the 0/],
    [
      "another key's signature under this id",
      JSON_TEXT,
      sign(JSON_TEXT, { ...other, id: pair.id }),
      KEYS,
      /does not fit/,
    ],
    [
      "another key under this id",
      JSON_TEXT,
      sign(JSON_TEXT, { ...other, id: pair.id }),
      { keys: [{ ...jwk(other), kid: pair.id }] },
      /another key under the id/,
    ],
    [
      "a revoked key",
      JSON_TEXT,
      sign(JSON_TEXT),
      { ...KEYS, revoked: [{ kid: pair.id, revokedAt: "2026-11-25" }] },
      /was revoked on 2026-11-25/,
    ],
    ["an empty signature file", JSON_TEXT, "", KEYS, /holds no Ed25519 signature/],
    [
      "a signature of half length",
      JSON_TEXT,
      sign(JSON_TEXT).replace(/("signature":"[\w-]{43})[\w-]{43}/, "$1"),
      KEYS,
      /holds no Ed25519/,
    ],
    ["a report cut off", JSON_TEXT.slice(0, -20), sign(JSON_TEXT), KEYS, /cut off/],
    [
      // JSON.parse takes the last, other programs the first.
      "a member put in a second time",
      JSON_TEXT.replace("{", '{"verdict":"pass",'),
      sign(JSON_TEXT),
      KEYS,
      /"verdict" occurs twice/,
    ],
  ])("%s", (_, report, signature, keys, why) => {
    expect(verifyReport(report, signature, keys)).toMatchObject({ isGood: false, why: expect.stringMatching(why) });
  });
});
