import type { Readable, Writable } from "node:stream";

/** What a command may talk to. Handed in, so that a test can read along and nothing else is reached for. */
export interface Terminal {
  readonly stdin: Readable;
  /** Results only. */
  readonly stdout: Writable & { readonly isTTY?: boolean };
  /** Everything else: progress, warnings, errors. */
  readonly stderr: Writable & { readonly isTTY?: boolean };
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly folder: string;
}

export interface Command {
  /** Shown by --help, and its first line after a usage error. */
  readonly usage: string;
  /** Gives the exit code. */
  run(args: readonly string[], terminal: Terminal): Promise<number>;
}

export const EXIT = { pass: 0, fail: 1, error: 2, undetermined: 3 } as const;

/** The caller asked for something that can't be done as asked; the message says what and what to do. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

/** https://no-color.org: any value but an empty one switches colours off. */
export function wantsColour({ stdout, env }: Terminal): boolean {
  return stdout.isTTY === true && !env.NO_COLOR && env.TERM !== "dumb";
}

/** Resolves when the bytes have left; a reader that went away (`| head`) is no error. */
export function write(stream: Writable, bytes: string | Uint8Array): Promise<void> {
  return new Promise((resolve, reject) => {
    stream.write(bytes, (error) => {
      if (error && (error as NodeJS.ErrnoException).code !== "EPIPE") reject(error);
      else resolve();
    });
  });
}
