import { promises as dns, type LookupAddress } from "node:dns";
import { type IncomingMessage, request as requestHttp } from "node:http";
import { request as requestHttps } from "node:https";
import type { LookupFunction } from "node:net";
import { addressProblem, type ReceiverPolicy } from "./address-guard.js";
import { receiverUrlProblem } from "./receiver-url.js";

export interface Answer {
  readonly status?: number;
  readonly retryAfter?: string;
  readonly address?: string;
  /** Typed reason when no usable answer came. */
  readonly problem?: "address-blocked" | "timeout" | "connection" | "status" | "disabled";
  readonly detail?: string;
  /** First 4 kB of what the receiver said. */
  readonly answer?: string;
}

export interface SendOptions {
  readonly policy: ReceiverPolicy;
  readonly deadlineMs?: number;
  /** The name service; tests put their own here. */
  readonly resolve?: (host: string) => Promise<readonly LookupAddress[]>;
}

/**
 * One try at one receiver. Its address is resolved once, checked, and that checked address is connected to: a name that
 * answers differently a moment later gains nothing. Redirects are answers like any other, and not followed.
 */
export async function send(
  target: string,
  headers: Readonly<Record<string, string>>,
  body: string,
  options: SendOptions,
): Promise<Answer> {
  const urlProblem = receiverUrlProblem(target, options.policy);
  if (urlProblem) return { problem: "address-blocked", detail: urlProblem };

  const url = new URL(target);
  let address: string | undefined;
  try {
    const response = await post(url, headers, body, options, (connected) => {
      address = connected;
    });
    return { ...readAnswer(response), ...(address !== undefined && { address }) };
  } catch (error) {
    return { ...readFailure(error), ...(address !== undefined && { address }) };
  }
}

const DEADLINE_MS = 20_000;
const ANSWER_LIMIT_BYTES = 16_384;
const ANSWER_KEPT_CHARACTERS = 4_096;

interface Received {
  readonly status: number;
  readonly retryAfter: string | undefined;
  readonly text: string;
}

class AddressBlocked extends Error {}
class TooLate extends Error {}

function post(
  url: URL,
  headers: Readonly<Record<string, string>>,
  body: string,
  { policy, deadlineMs = DEADLINE_MS, resolve = resolveAll }: SendOptions,
  onConnect: (address: string) => void,
): Promise<Received> {
  return new Promise((settle, reject) => {
    const call = url.protocol === "https:" ? requestHttps : requestHttp;
    const request = call(url, {
      method: "POST",
      agent: false,
      lookup: checkedLookup(policy, resolve),
      headers: {
        "content-type": "application/json",
        "content-length": Buffer.byteLength(body),
        "user-agent": "heatgate-webhooks/1",
        ...headers,
      },
    });
    // A socket's own timeout starts anew with every byte; a receiver that trickles would hold it open for ever.
    const deadline = setTimeout(
      () => request.destroy(new TooLate(`No whole answer within ${deadlineMs} ms.`)),
      deadlineMs,
    );
    request.on("socket", (socket) => {
      socket.once("connect", () => {
        const problem = addressProblem(socket.remoteAddress ?? "", policy);
        if (problem) request.destroy(new AddressBlocked(problem));
        else onConnect(socket.remoteAddress!);
      });
    });
    request.on("error", (error) => {
      clearTimeout(deadline);
      reject(error);
    });
    request.on("response", (response) => {
      readCapped(response, (text) => {
        clearTimeout(deadline);
        request.destroy();
        settle({ status: response.statusCode ?? 0, retryAfter: response.headers["retry-after"], text });
      });
    });
    request.end(body);
  });
}

/** The status is the answer; what follows it is kept for the log as far as it comes, and cut off. */
function readCapped(response: IncomingMessage, done: (text: string) => void): void {
  const parts: Buffer[] = [];
  let bytes = 0;
  const finish = () => done(Buffer.concat(parts).toString("utf8").slice(0, ANSWER_KEPT_CHARACTERS));
  response.on("data", (part: Buffer) => {
    parts.push(part);
    bytes += part.length;
    if (bytes > ANSWER_LIMIT_BYTES) finish();
  });
  response.once("end", finish);
  response.once("error", finish);
}

function checkedLookup(
  policy: ReceiverPolicy,
  resolve: (host: string) => Promise<readonly LookupAddress[]>,
): LookupFunction {
  return (hostname, options, callback) => {
    resolve(hostname).then(
      (found) => {
        const blocked = found.map(({ address }) => addressProblem(address, policy)).find((problem) => problem);
        // One bad address spoils the name: which of them gets used is not ours to choose.
        if (blocked) return callback(new AddressBlocked(`${hostname}: ${blocked}`), "", 0);
        const first = found[0];
        if (!first) return callback(new Error(`${hostname} has no address.`), "", 0);
        if (options.all) return callback(null, [...found]);
        callback(null, first.address, first.family);
      },
      (error) => callback(error, "", 0),
    );
  };
}

function resolveAll(host: string): Promise<readonly LookupAddress[]> {
  return dns.lookup(host, { all: true });
}

function readAnswer({ status, retryAfter, text }: Received): Answer {
  const accepted = status >= 200 && status < 300;
  return {
    status,
    ...(retryAfter !== undefined && { retryAfter }),
    ...(text && { answer: text }),
    ...(!accepted && { problem: "status" as const, detail: `The receiver answered ${status}.` }),
  };
}

function readFailure(error: unknown): Answer {
  const detail = error instanceof Error ? error.message : String(error);
  if (error instanceof AddressBlocked) return { problem: "address-blocked", detail };
  if (error instanceof TooLate) return { problem: "timeout", detail };
  return { problem: "connection", detail };
}
