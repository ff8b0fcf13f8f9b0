import { withoutSecrets } from "../log-error.js";
import { programVersion } from "../program-version.js";
import { COMMANDS } from "./commands.js";
import { EXIT, type Terminal, UsageError, write } from "./terminal.js";

/** `heatgate <command> …`: finds the command, runs it, and turns what goes wrong into a sentence and an exit code. */
export async function runCommand(args: readonly string[], terminal: Terminal): Promise<number> {
  const [first, ...rest] = args;
  if (first === undefined) return refuse(terminal, USAGE);
  if (first === "--help" || first === "-h") return answer(terminal, USAGE);
  if (first === "--version") return answer(terminal, `heatgate ${programVersion()}`);
  if (first === "help") return help(rest[0], terminal);

  const entry = findCommand(first);
  if (!entry) return refuse(terminal, `${unknownCommand(first)}\n\n${USAGE}`);
  const command = await entry.load();
  if (rest.includes("--help") || rest.includes("-h")) return answer(terminal, command.usage);
  try {
    return await command.run(rest, terminal);
  } catch (error) {
    if (isUsageError(error)) {
      const [usageLine] = command.usage.split("\n");
      return refuse(terminal, `heatgate ${first}: ${error.message}\n${usageLine}\nMore: heatgate ${first} --help`);
    }
    const message =
      error instanceof Error ? (terminal.env.HEATGATE_DEBUG ? error.stack : error.message) : String(error);
    return refuse(terminal, `heatgate ${first}: ${withoutSecrets(message ?? "")}`);
  }
}

const USAGE = [
  "Usage: heatgate <command> [options]",
  "",
  "Decides, heat by heat, whether delivered metal may be built in.",
  "",
  "Commands:",
  ...Object.entries(COMMANDS).map(([name, { summary }]) => `  ${name.padEnd(10)} ${summary}`),
  "",
  "heatgate help <command> says more. Exit codes: 0 pass, 1 fail, 2 usage or internal error, 3 undetermined.",
].join("\n");

async function help(name: string | undefined, terminal: Terminal): Promise<number> {
  if (name === undefined) return answer(terminal, USAGE);
  const entry = findCommand(name);
  return entry ? answer(terminal, (await entry.load()).usage) : refuse(terminal, unknownCommand(name));
}

function findCommand(name: string) {
  return Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
}

function unknownCommand(name: string): string {
  return `heatgate: there is no command ${JSON.stringify(name)}.`;
}

async function answer({ stdout }: Terminal, text: string): Promise<number> {
  await write(stdout, `${text}\n`);
  return EXIT.pass;
}

async function refuse({ stderr }: Terminal, text: string): Promise<number> {
  await write(stderr, `${text}\n`);
  return EXIT.error;
}

/** Our own refusals, and those of node:util's parseArgs, whose messages name the option. */
function isUsageError(error: unknown): error is Error {
  if (error instanceof UsageError) return true;
  return error instanceof Error && String((error as NodeJS.ErrnoException).code).startsWith("ERR_PARSE_ARGS_");
}
