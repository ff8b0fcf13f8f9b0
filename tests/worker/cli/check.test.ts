import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { loadImage } from "@napi-rs/canvas";
import { afterAll, beforeAll, expect, test } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { createVerifier } from "../../../worker/create-verifier.js";
import { verifyDocuments } from "../../../worker/jobs/verify-documents.js";
import { drawCertificate } from "../readers/pdf/draw-certificate.js";
import { drawPdf, drawText } from "../readers/pdf/draw-page.js";
import { capturedTerminal } from "./captured-terminal.js";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const SAMPLES = join(ROOT, "samples");

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "heatgate-check-test-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function heatgate(args: readonly string[], input?: Buffer) {
  const captured = capturedTerminal({ folder: SAMPLES, ...(input && { input }) });
  const code = await runCommand(args, captured.terminal);
  return { code, stdout: captured.stdout().toString("utf8"), stderr: captured.stderr() };
}

test("a violated limit: exit code 1, the finding on stdout", async () => {
  const { code, stdout } = await heatgate(["check", "carbon-too-high/aurenbach-a-240417.csv"]);
  expect(code).toBe(1);
  expect(stdout).toContain("x FAIL  heat A55107: 1 fail");
  expect(stdout).toContain("Carbon 0.034 % is above the 0.030 % maximum of S30403 (304L), by 0.004 %.");
  expect(stdout).toContain('read "0,034" in aurenbach-a-240417.csv, line 13, column 2');
  expect(stdout).not.toContain("\u001b");
});

test("something undecided: exit code 3; a document may come from standard input", async () => {
  const input = await readFile(join(SAMPLES, "sulphur-not-reported/aurenbach-a-240533.csv"));
  const { code, stdout } = await heatgate(["check", "-"], input);
  expect(code).toBe(3);
  expect(stdout).toContain("Sulphur is not reported");
});

test("all well: exit code 0; an --output file gets the report, stdout nothing, stderr the verdict", async () => {
  const output = join(folder, "report.html");
  const folderGiven = ["check", "json-certificate/ellery-ew-7801.json", "-r", "json-certificate/requirement.json"];
  const { code, stdout, stderr } = await heatgate([...folderGiven, "-f", "html", "-o", output]);
  expect(code).toBe(0);
  expect(stdout).toBe("");
  expect(stderr).toContain("Verdict: pass (1 pass)");
  expect(await readFile(output, "utf8")).toContain("<h1>Pass</h1>");
});

test("the page shows where on the PDF a value was read, and its text stays what it was", async () => {
  const pdf = await drawPdf((page) => {
    drawCertificate(page, "all");
    drawText(page, "Material: ASTM A240/A240M Type 304L", 40, 100);
  });
  await writeFile(join(folder, "certificate.pdf"), pdf);
  const given = ["check", join(folder, "certificate.pdf")];
  const [page, text] = await Promise.all([heatgate([...given, "-f", "html"]), heatgate([...given, "-f", "text"])]);
  const pictures = [...page.stdout.matchAll(/src="data:image\/png;base64,([A-Za-z0-9+/=]+)"/g)];
  expect(pictures.length).toBeGreaterThan(4);
  const picture = await loadImage(Buffer.from(pictures[0]![1]!, "base64"));
  expect(picture.width).toBeGreaterThan(100);
  expect(page.stdout).toContain("in certificate.pdf, page 1");
  expect(text.stdout).not.toContain("base64");
});

test("the JSON is the report's canonical bytes, whose SHA-256 the page states", async () => {
  const given = ["check", "below-detection-limit/ellery-ew-7710.csv", "-r", "below-detection-limit/requirement.json"];
  const [json, page] = await Promise.all([heatgate([...given, "-f", "json"]), heatgate([...given, "-f", "html"])]);
  expect(JSON.parse(json.stdout)).toMatchObject({ report: 1, verdict: "undetermined" });
  expect(page.stdout).toContain(`sha256:${createHash("sha256").update(json.stdout).digest("hex")}`);
});

test("the JSON is what the service answers with: what it is told of the media type changes nothing", async () => {
  const path = join(SAMPLES, "carbon-too-high/aurenbach-a-240417.csv");
  const sha256 = createHash("sha256")
    .update(await readFile(path))
    .digest("hex");
  const verifier = await createVerifier({ children: 1 });
  const given = { name: "aurenbach-a-240417.csv", mediaType: "text/csv", sha256, path };
  const { json } = await verifyDocuments(verifier, [given], null).finally(() => verifier.close());
  expect((await heatgate(["check", path, "-f", "json"])).stdout).toBe(json);
});

test("a file that can't be read as a document is said, and is no pass", async () => {
  const { code, stdout } = await heatgate(["check", "carbon-too-high/aurenbach-a-240417.csv", "../LICENSE"]);
  expect(code).toBe(1);
  expect(stdout).toContain("LICENSE");
});

test("as a process: a reader that goes away early does not change the exit code", async () => {
  const child = spawn(
    process.execPath,
    [
      "--import",
      "tsx",
      join(ROOT, "worker/cli/main.ts"),
      "check",
      "mixed-workbook/brackwater-bm-5530.xlsx",
      "-f",
      "html",
    ],
    { cwd: SAMPLES, stdio: ["ignore", "pipe", "pipe"] },
  );
  child.stdout.destroy();
  let stderr = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
  });
  const code = await new Promise((resolve) => child.on("close", resolve));
  expect(stderr).not.toContain("EPIPE");
  expect(code).toBe(1);
});

test("an unwritable output is an internal error, not a verdict", async () => {
  const { code, stderr } = await heatgate([
    "check",
    "carbon-too-high/aurenbach-a-240417.csv",
    "-o",
    join(folder, "no/such/r"),
  ]);
  expect(code).toBe(2);
  expect(stderr).toContain("can't be written");
});
