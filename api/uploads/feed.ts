import type { IncomingMessage } from "node:http";
import type { Writable } from "node:stream";
import { Problem } from "../problems.js";

/**
 * Lets the request's body run into `into` and settles when that has taken all of it, refused it, or the sender has gone.
 *
 * stream.pipeline would destroy the request when `into` refuses, and with it the connection that must carry the refusal.
 */
export function feed(request: IncomingMessage, into: Writable): Promise<void> {
  return new Promise((resolve, reject) => {
    const leave = () => {
      request.unpipe(into);
      request.off("close", onClose);
    };
    const onClose = () => {
      if (!request.complete) into.destroy(new Problem("request-aborted"));
    };
    into.once("finish", () => {
      leave();
      resolve();
    });
    // Some parsers speak of one fault twice; an unheard error event would end the process.
    into.on("error", (error) => {
      leave();
      into.destroy();
      reject(error);
    });
    request.once("close", onClose);
    if (request.destroyed && !request.complete) onClose();
    else request.pipe(into);
  });
}
