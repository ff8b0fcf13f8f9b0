import { type RunningService, startService } from "../../api/main.js";
import type { World } from "./world.js";

export interface Answer {
  readonly status: number;
  readonly ms: number;
  readonly retryAfter?: string;
  /** Of the submission, where one was accepted or found. */
  readonly id?: string;
}

/** The HTTP front in this process, on the world's stores, and requests to it. */
export async function startApi(world: World) {
  const service: RunningService = await startService({ ...world.environment, PORT: "0" });

  async function call(method: string, path: string, document?: { readonly text: string; readonly key?: string }) {
    const started = performance.now();
    const response = await fetch(`${service.url}${path}`, {
      method,
      headers: {
        authorization: `Bearer ${service.firstKey}`,
        ...(document && { "content-type": "text/csv" }),
        ...(document?.key !== undefined && { "idempotency-key": document.key }),
      },
      ...(document && { body: document.text }),
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    const text = await response.text();
    const retryAfter = response.headers.get("retry-after");
    const answer: Answer = {
      status: response.status,
      ms: performance.now() - started,
      ...(retryAfter !== null && { retryAfter }),
      ...(document && response.ok && { id: JSON.parse(text).id as string }),
    };
    return answer;
  }

  return {
    get: (path: string) => call("GET", path),
    submit: (text: string, key?: string) =>
      call("POST", "/v1/submissions", { text, ...(key !== undefined && { key }) }),
    /** The same request again for as long as the answer asks for it. */
    async submitUntilTaken(text: string, key: string, withinMs: number): Promise<Answer> {
      const started = performance.now();
      for (;;) {
        const answer = await this.submit(text, key);
        const isAskedAgain = answer.status === 503 || answer.status === 409;
        if (!isAskedAgain || performance.now() - started > withinMs) return answer;
        await new Promise((resolve) => setTimeout(resolve, 500));
      }
    },
    stop: () => service.stop(),
  };
}

const PATIENCE_MS = 90_000;
