import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { austeniticStress } from "../../reference/synthetic-curve.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-reduce-test-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function run(args: readonly string[], input = "") {
  const captured = capturedTerminal({ input, folder });
  const code = await runCommand(args, captured.terminal);
  return { code, stdout: captured.stdout().toString("utf8"), stderr: captured.stderr() };
}

function data(name: string): string {
  return fileURLToPath(new URL(`../../reference/data/${name}`, import.meta.url));
}

describe("heatgate reduce", () => {
  test("a tensile curve as text: value, unrounded, stated, and how", async () => {
    const { code, stdout } = await run(["reduce", data("tensile-42crmos4/46NT73.tsv")]);
    expect(code).toBe(0);
    expect(stdout).toMatch(/Rm +1199 MPa +unrounded 1198\.9048 +stated 1198\.9048/);
    expect(stdout).toMatch(/elastic line: slope 198\.\d+ GPa/);
  });

  test("what the record does not say can be given: section, gauge length, final sizes", async () => {
    const given =
      "--area 120.396 --extensometer-length 50 --gauge-length 60 --final-length 81.1 --final-area 50.502".split(" ");
    const { code, stdout } = await run(["reduce", data("tensile-s355/Zx3.csv"), "-f", "json", ...given]);
    expect(code).toBe(0);
    const [curve] = JSON.parse(stdout).curves;
    const reported = Object.fromEntries(
      curve.results.map((row: { quantity: string; reported: string }) => [row.quantity, row.reported]),
    );
    // Published: ReH 379, Rp0.2 376, Rm 504, A 35.0, Z 58.
    expect(reported).toMatchObject({ ReH: "379", "Rp0.2": "376", Rm: "504", A: "35.0", Z: "58" });
    expect(curve.doubts.map(({ code: doubt }: { code: string }) => doubt)).toEqual(["extensometer-ended"]);
  });

  test("impact results at several temperatures as a page with the transition curve", async () => {
    const output = join(folder, "x52.html");
    const { code, stdout } = await run([
      "reduce",
      data("charpy-nist/x52_full.csv"),
      "--format",
      "html",
      "--output",
      output,
    ]);
    expect([code, stdout]).toEqual([0, ""]);
    const page = await readFile(output, "utf8");
    expect(page).toContain("<svg");
    expect(page).toContain("T27J");
    expect(page).not.toContain("<script");
  });

  test("standard input; nothing to reduce is exit 3, not an error", async () => {
    const { code, stdout } = await run(["reduce", "-"], "Heat;C\nH1;0.02\n");
    expect(code).toBe(3);
    expect(stdout).toContain("No tensile curve");
  });

  test.each([
    [["reduce"], "name at least one document"],
    [["reduce", "a.csv", "b.csv"], "no file, folder or match for a.csv"],
    [["reduce", "a.csv", "--area", "-3"], "--area"],
    [["reduce", "a.csv", "--area=0"], "no number above zero"],
    [["reduce", "a.csv", "--format", "pdf"], "there is no format"],
  ])("%j is refused", async (args, message) => {
    const { code, stderr } = await run(args);
    expect(code).toBe(2);
    expect(stderr).toContain(message);
  });
});

/** Invented results for tank T-204, as a laboratory sends them. */
const IMPACT_301 = `Material;301
Heat;B3010

Zone;Temperature °C;KV J
base;-196;38
base;-196;44
base;-196;41
base;20;140
`;
const IMPACT_304L = `Material;304L
Heat;H4471

Zone;Temperature °C;KV J
base;-196;152
base;-196;165
base;-196;160
base;20;240
weld;-196;64
weld;-196;58
weld;-196;78
`;

describe("heatgate compare", () => {
  beforeAll(async () => {
    await writeFile(join(folder, "301.csv"), IMPACT_301);
    await writeFile(join(folder, "304l.csv"), IMPACT_304L);
    const requirement = {
      requirement: 1,
      name: "T-204 shell",
      impact: [{ zone: "base", temperature: "-196 °C", average: "60 J", single: "42 J" }],
    };
    await writeFile(join(folder, "t-204.json"), JSON.stringify(requirement));
    const rows = Array.from({ length: 400 }, (_, i) => {
      const strain = i < 300 ? i * 4e-5 : 0.012 + (i - 300) * 0.005;
      return `${(100 * strain).toFixed(5)};${austeniticStress(strain).toFixed(3)}`;
    });
    const curve = `Heat;H4471\nTest temperature;-196;°C\nStrain %;Stress MPa\n${rows.join("\n")}\n`;
    await writeFile(join(folder, "curve.csv"), curve);
  });

  test("two grades at the service temperature, finished results and a raw curve joined by heat", async () => {
    const args = [
      "compare",
      "301.csv",
      "304l.csv",
      "curve.csv",
      "--service-temperature",
      "-196 °C",
      "--requirement",
      "t-204.json",
    ];
    const { code, stdout, stderr } = await run(args);
    expect([code, stderr]).toEqual([0, ""]);
    expect(stdout).toContain("At the service temperature −196 °C, minimums of T-204 shell");
    expect(stdout).toMatch(/KV, base: .*H4471, base leads with 159 J, against 41 J of .*B3010, base/);
    expect(stdout).toMatch(/Short of the required 60 J, 42 J each: .*B3010, base/);
    expect(stdout).toMatch(/H4471, base +260 MPa/); // Rp0.2 from the curve
  });

  test("as JSON and as a page", async () => {
    const common = ["compare", "301.csv", "304l.csv", "-t", "-100 °C", "-f"];
    const json = JSON.parse((await run([...common, "json"])).stdout);
    expect(json).toMatchObject({ comparison: 1, serviceC: -100, requirement: null });
    expect(json.properties[0].rows[0].atService.kind).toBe("interpolated");
    expect((await run([...common, "html"])).stdout).toContain("<svg");
  });

  test("nothing known at the service temperature is exit 3", async () => {
    const { code, stdout } = await run(["compare", "301.csv", "--service-temperature=-253 °C"]);
    expect(code).toBe(3);
    expect(stdout).toContain("nothing was tested at or around −253 °C");
  });

  test.each([
    [["compare"], "name at least one document"],
    [["compare", "301.csv"], "--service-temperature"],
    [["compare", "301.csv", "-t", "-196"], "with its unit"],
    [["compare", "301.csv", "-t", "12 mm"], "with its unit"],
  ])("%j is refused", async (args, message) => {
    const { code, stderr } = await run(args);
    expect(code).toBe(2);
    expect(stderr).toContain(message);
  });
});
