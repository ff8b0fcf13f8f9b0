import { expect, test } from "vitest";
import { COMMANDS } from "../../../worker/cli/commands.js";
import { runCommand } from "../../../worker/cli/run-command.js";
import { capturedTerminal } from "./captured-terminal.js";

async function run(...args: string[]) {
  const captured = capturedTerminal();
  const code = await runCommand(args, captured.terminal);
  return { code, stdout: captured.stdout().toString("utf8"), stderr: captured.stderr() };
}

test("without a command it says how it is used, on stderr, as an error", async () => {
  const { code, stdout, stderr } = await run();
  expect(code).toBe(2);
  expect(stdout).toBe("");
  expect(stderr).toContain("Usage: heatgate <command>");
});

test.each([["--help"], ["-h"], ["help"]])("%s lists every command on stdout", async (asked) => {
  const { code, stdout, stderr } = await run(asked);
  expect(code).toBe(0);
  expect(stderr).toBe("");
  for (const name of Object.keys(COMMANDS)) expect(stdout).toContain(`  ${name}`);
});

test.each([
  ["check", "--help"],
  ["check", "certificate.xlsx", "-h"],
  ["help", "check"],
])("%s %s explains the command", async (...args) => {
  const { code, stdout } = await run(...args);
  expect(code).toBe(0);
  expect(stdout).toMatch(/^Usage: heatgate check/);
  expect(stdout).toContain("Exit codes: 0");
});

test("--version is the package's", async () => {
  expect((await run("--version")).stdout).toMatch(/^heatgate \d+\.\d+\.\d+\n$/);
});

test.each(["chek", "constructor", "__proto__"])("%s is no command", async (name) => {
  const { code, stderr } = await run(name);
  expect(code).toBe(2);
  expect(stderr).toContain(`there is no command "${name}"`);
});

test.each([
  [["check"], "name at least one document"],
  [["check", "a.csv", "--format", "yaml"], "there is no format"],
  [["check", "a.csv", "--frmat", "json"], "--frmat"],
  [["check", "a.csv", "--output"], "--output"],
  [["check", "-", "--requirement", "-"], "only one of document, requirement and corrections"],
  [["check", "no-such-file.csv"], "there is no file, folder or match for no-such-file.csv"],
  [["check", "package.json", "--requirement", "no-such.json"], "the requirement no-such.json can't be read"],
])("%j is refused with exit code 2 and a sentence", async (args, sentence) => {
  const { code, stdout, stderr } = await run(...args);
  expect(code).toBe(2);
  expect(stdout).toBe("");
  expect(stderr).toContain(sentence);
  expect(stderr).toContain("More: heatgate check --help");
});

test("a workbook is not thrown at a terminal", async () => {
  const { terminal, stderr } = capturedTerminal({ isTTY: true });
  expect(await runCommand(["check", "package.json", "-f", "xlsx"], terminal)).toBe(2);
  expect(stderr()).toContain("name a file with --output");
});
