import { access, readdir } from "node:fs/promises";
import { tmpdir } from "node:os";
import { expect, test } from "vitest";
import { createVerifier } from "../../../worker/create-verifier.js";
import type { Verifier } from "../../../worker/jobs/verify-documents.js";
import { warmUp } from "../../../worker/jobs/warm-up.js";

test("a certificate goes the whole way, and nothing of it stays", async () => {
  const real = await createVerifier({ children: 1 });
  const paths = new Set<string>();
  const verdicts = new Set<string>();
  const verifier: Verifier = {
    ...real,
    read: (path, hint, position) => {
      paths.add(path);
      return real.read(path, hint, position);
    },
    buildReport: (input) => {
      const report = real.buildReport(input);
      verdicts.add(report.heats.map(({ heat, verdict }) => `${heat} ${verdict}`).join());
      return report;
    },
  };
  await warmUp(verifier).finally(() => real.close());
  expect([...verdicts]).toEqual(["W0001 pass"]);
  for (const path of paths) await expect(access(path)).rejects.toThrow();
});

test("stopped in the middle of it, it ends, and leaves nothing behind", async () => {
  const before = new Set(await readdir(tmpdir()));
  const verifier = await createVerifier({ children: 1 });
  const warm = warmUp(verifier);
  await verifier.close();
  await warm;
  const left = (await readdir(tmpdir())).filter((name) => name.startsWith("heatgate-warm-up-") && !before.has(name));
  expect(left).toEqual([]);
});
