/** All that the log says of an error. */
export interface LoggedError {
  readonly type: string;
  readonly message: string;
  readonly code?: string;
  /** Where in the code, a frame to a line. */
  readonly stack?: string;
  /** What the error names as its cause, three deep at most. */
  readonly cause?: LoggedError;
}

const LONGEST_MESSAGE = 300;
const CAUSES = 3;
const made = new WeakSet<object>();

/**
 * An error as it may be logged. Libraries hang everything onto their errors: the command with its password (ioredis), the row that
 * broke a constraint (pg), the body that did not parse (body-parser), requests with their headers (AWS). So the properties taken are
 * named here, and everything else stays behind. Whatever can be thrown may be given, also what was made here before.
 */
export function loggedError(error: unknown): LoggedError {
  return logged(error, CAUSES);
}

function logged(error: unknown, causes: number): LoggedError {
  if (typeof error === "object" && error !== null && made.has(error)) return error as LoggedError;
  const said = error instanceof Error ? ofError(error, causes) : { type: typeof error, message: textOf(error) };
  made.add(said);
  return said;
}

/** What is thrown may be anything; an object could say of itself whatever it holds. */
function textOf(thrown: unknown): string {
  return typeof thrown === "string" ? withoutValues(thrown) : "no error was thrown, but something else";
}

function ofError(error: Error, causes: number): LoggedError {
  const { code, cause } = error as NodeJS.ErrnoException;
  return {
    type: nameOf(error),
    message: withoutValues(String(error.message)),
    ...((typeof code === "string" || typeof code === "number") && CODE.test(String(code)) && { code: String(code) }),
    ...(typeof error.stack === "string" && { stack: framesOf(error.stack) }),
    ...(cause !== undefined && causes > 0 && { cause: logged(cause, causes - 1) }),
  };
}

const CODE = /^[A-Za-z0-9_-]{1,60}$/;

/** A class of ours or a library's; a name that somebody gave the one error is no type. */
function nameOf(error: Error): string {
  return [error.constructor?.name, error.name].find((name) => /^[A-Z]\w{0,60}$/.test(name ?? "")) ?? "Error";
}

/** The message stands before the frames and may have any lines of its own, so only what can be nothing but a frame is taken. */
function framesOf(stack: string): string {
  return stack
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => FRAME.test(line))
    .join("\n");
}

const FRAME = /^at (?:async )?(?:[\w.$<>[\] #]{1,120} \()?(?:(?:file:\/\/)?\/|node:)[^\s()?]{1,300}:\d+:\d+\)?$/;

/**
 * A text without what may be a secret in it: of addresses only scheme, host and port stay; keys, webhook secrets and what follows
 * "Bearer" or "Basic" go.
 */
export function withoutSecrets(text: string): string {
  return text
    .replace(
      /\b([a-z][a-z0-9+.-]{1,20}:\/\/)([^\s"'`<>]+)/gi,
      (_, scheme: string, rest: string) => scheme + hostOf(rest),
    )
    .replace(/\b(?:hg_live|whsec|whsk)_[^\s"'`,;]*/g, REMOVED)
    .replace(/\b(Bearer|Basic)\s+[^\s"'`,;]+/gi, `$1 ${REMOVED}`);
}

const REMOVED = "[removed]";

/** A password may have any character in it, so nothing stays where it is not certain what is the host. */
function hostOf(address: string): string {
  const [authority = "", ...parts] = address.split(/[/?#,;)]/);
  const host = authority.slice(authority.lastIndexOf("@") + 1);
  return HOST.test(host) && !parts.join().includes("@") ? host : REMOVED;
}

const HOST = /^(?:[\w.-]+|\[[0-9a-f:.]+\])(?::\d{1,5})?$/i;

/**
 * A message without the values that it quotes either, for they are what senders sent and documents say. A quoted name stays where the
 * words before it say what it names in the database, and so do paths. From the first other quotation on, all up to the last mark goes:
 * what is quoted may have quotation marks in it.
 */
function withoutValues(message: string): string {
  const text = withoutSecrets(message.slice(0, 10_000));
  const last = Math.max(...[...MARKS].map((mark) => text.lastIndexOf(mark)));
  for (let at = nextMark(text, 0); at !== -1; ) {
    const named = NAMED.exec(text.slice(at))?.[0];
    const isKept = named !== undefined && (named[1] === "/" || NAMES.test(text.slice(0, at)));
    if (!isKept) return `${text.slice(0, at)}${REMOVED}${text.slice(last + 1)}`.slice(0, LONGEST_MESSAGE);
    at = nextMark(text, at + named.length);
  }
  return text.slice(0, LONGEST_MESSAGE);
}

const MARKS = `"'\``;
const NAMED = /^(["'])(?:[a-z_][a-z0-9_.]{0,62}|\/[\w./-]{1,200})\1/;
const NAMES = /\b(?:relation|table|column|constraint|index|schema|function|type|role|user|database) $/;

/** The apostrophe of a word is no mark. */
function nextMark(text: string, from: number): number {
  const found = text.slice(from).search(/["`]|(?<!\w)'/);
  return found === -1 ? -1 : from + found;
}
