import { Problem } from "../problems.js";

/**
 * Idempotency keys whose first request is still being taken in by this process. The draft wants a second one refused
 * meanwhile. Between processes the store decides: its unique key lets one through and answers the other with its result.
 */
export class RunningKeys {
  readonly #running = new Set<string>();

  async during<T>(owner: string | undefined, key: string | undefined, take: () => Promise<T>): Promise<T> {
    if (key === undefined) return await take();
    const name = JSON.stringify([owner ?? null, key]);
    if (this.#running.has(name)) throw new Problem("idempotency-key-in-use", { headers: { "Retry-After": "1" } });
    this.#running.add(name);
    try {
      return await take();
    } finally {
      this.#running.delete(name);
    }
  }
}
