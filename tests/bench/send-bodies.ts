import { randomBytes } from "node:crypto";
import { Agent, request } from "node:http";

export interface Asked {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly requests: number;
  readonly atOnce: number;
  readonly bytes: number;
}

export interface Sent {
  readonly milliseconds: readonly number[];
}

/** A child of benchmarks: posts bodies that nobody has sent before, some at once, and tells how long each answer took. */
const agent = new Agent({ keepAlive: true, maxSockets: 64 });

process.on("message", async (asked: Asked) => {
  const milliseconds: number[] = [];
  let left = asked.requests;
  await Promise.all(
    Array.from({ length: asked.atOnce }, async () => {
      while (left-- > 0) milliseconds.push(await post(asked));
    }),
  );
  process.send?.({ milliseconds } satisfies Sent);
});

function post({ url, headers, bytes }: Asked): Promise<number> {
  const body = randomBytes(bytes / 2).toString("hex");
  const started = performance.now();
  return new Promise((resolve, reject) => {
    request(url, { method: "POST", agent, headers: { ...headers, "Content-Length": bytes } }, (response) => {
      if (response.statusCode !== 202) reject(new Error(`answered ${response.statusCode}`));
      response.resume().once("end", () => resolve(performance.now() - started));
    })
      .once("error", reject)
      .end(body);
  });
}
