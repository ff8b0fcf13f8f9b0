#!/usr/bin/env node
import { runCommand } from "./run-command.js";

// A reader that closes the pipe early must not turn a verdict into a crash.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
  });
}

process.exitCode = await runCommand(process.argv.slice(2), {
  stdin: process.stdin,
  stdout: process.stdout,
  stderr: process.stderr,
  env: process.env,
  folder: process.cwd(),
});
