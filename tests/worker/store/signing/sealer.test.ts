import { randomBytes } from "node:crypto";
import { stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createSealer } from "../../../../worker/store/signing/sealer.js";
import { loadSealingKeys } from "../../../../worker/store/signing/sealing-keys.js";
import { temporaryFolder } from "../../../support/invented.js";

const key = (id: string) => ({ id: id.repeat(16), bytes: randomBytes(32) });

describe("a sealed secret", () => {
  const one = key("1");
  const sealer = createSealer([one]);

  test("opens to what it was, whatever that is, and is never the same text twice", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (secret) => {
        const sealed = sealer.seal("webhook-secret", secret);
        expect(sealer.open("webhook-secret", sealed)).toBe(secret);
        expect(sealer.seal("webhook-secret", secret)).not.toBe(sealed);
      }),
    );
  });

  test("does not open for another purpose, with another key under its name, or with any bit changed", () => {
    const sealed = sealer.seal("webhook-secret", "whsec_x");
    expect(() => sealer.open("signing-key", sealed)).toThrow();
    expect(() => createSealer([{ ...one, bytes: randomBytes(32) }]).open("webhook-secret", sealed)).toThrow();
    const [head, id, text = ""] = sealed.split(":");
    const bytes = Buffer.from(text, "base64url");
    for (let at = 0; at < bytes.length; at++) {
      const changed = Buffer.from(bytes);
      changed[at]! ^= 1;
      expect(() => sealer.open("webhook-secret", [head, id, changed.toString("base64url")].join(":"))).toThrow();
    }
  });

  test("opens with an older key that is kept, and says which key is missing", () => {
    const sealed = sealer.seal("webhook-secret", "whsec_x");
    expect(createSealer([key("2"), one]).open("webhook-secret", sealed)).toBe("whsec_x");
    expect(() => createSealer([key("2")]).open("webhook-secret", sealed)).toThrow(/key 1{16}, which is not in/);
  });

  test("from before secrets were sealed is given back as it stands", () => {
    expect(sealer.open("webhook-secret", "whsec_x")).toBe("whsec_x");
  });
});

describe("the sealing key file", () => {
  let folder: Awaited<ReturnType<typeof temporaryFolder>>;
  beforeAll(async () => {
    folder = await temporaryFolder();
  });
  afterAll(() => folder.remove());

  test("is made once, for its owner only, however many start at the same time", async () => {
    const path = join(folder.path, "data", "sealing.key");
    const loaded = await Promise.all(Array.from({ length: 8 }, () => loadSealingKeys(path, true)));
    expect(new Set(loaded.map(([key]) => key?.id)).size).toBe(1);
    expect((await stat(path)).mode & 0o777).toBe(0o600);
    expect(await loadSealingKeys(path, false)).toEqual(loaded[0]);
  });

  test("may hold older keys and remarks", async () => {
    const path = join(folder.path, "two.key");
    const [one, two] = [randomBytes(32), randomBytes(32)];
    await writeFile(path, `# new\r\n${one.toString("base64")}\r\n\n# old\n${two.toString("base64")}\n`);
    expect((await loadSealingKeys(path, false)).map(({ bytes }) => bytes)).toEqual([one, two]);
  });

  test.each([
    ["not there", undefined, /cannot be read.*HEATGATE_SEALING_KEY_FILE/],
    ["empty", "\n", /holds no key/],
    ["too short", randomBytes(31).toString("base64"), /base64 of 32 bytes/],
    ["a password", "correct horse battery staple, and more of it", /base64 of 32 bytes/],
  ])("that is %s is refused", async (name, text, sentence) => {
    const path = join(folder.path, name);
    if (text !== undefined) await writeFile(path, text);
    await expect(loadSealingKeys(path, false)).rejects.toThrow(sentence);
  });
});
