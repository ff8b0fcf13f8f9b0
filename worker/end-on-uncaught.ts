import type { Logger } from "pino";

/**
 * What nobody caught ends the process, with one line in the log. Node itself would print the error with everything that hangs on it:
 * of a refused Redis connection the password.
 */
export function endOnUncaught(log: Pick<Logger, "fatal">): void {
  process.on("uncaughtException", (error) => {
    log.fatal({ err: error }, "ends, for nobody caught this error");
    process.exit(1);
  });
}
