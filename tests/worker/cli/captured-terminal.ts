import { Readable, Writable } from "node:stream";
import type { Terminal } from "../../../worker/cli/terminal.js";

/** A terminal that keeps what is written to it. */
export function capturedTerminal({
  input = "",
  isTTY = false,
  env = {},
  folder = process.cwd(),
}: {
  readonly input?: string | Uint8Array;
  readonly isTTY?: boolean;
  readonly env?: Terminal["env"];
  readonly folder?: string;
} = {}) {
  const out: Buffer[] = [];
  const err: Buffer[] = [];
  const terminal: Terminal = {
    stdin: Readable.from([Buffer.from(input)]),
    stdout: Object.assign(keeping(out), { isTTY }),
    stderr: keeping(err),
    env,
    folder,
  };
  return {
    terminal,
    stdout: () => Buffer.concat(out),
    stderr: () => Buffer.concat(err).toString("utf8"),
  };
}

function keeping(chunks: Buffer[]): Writable {
  return new Writable({
    write(chunk: Buffer, _encoding, done) {
      chunks.push(Buffer.from(chunk));
      done();
    },
  });
}
