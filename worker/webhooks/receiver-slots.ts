export interface SlotLimits {
  /** Deliveries to one receiver at the same time. */
  readonly active: number;
  /** Deliveries to one receiver that may wait inside this process for a slot. */
  readonly waiting: number;
  readonly waitMs: number;
}

/**
 * Keeps a slow receiver from holding every sender. `enter` gives a function to call when done, or undefined when the
 * receiver has enough to do and the delivery should come back later.
 */
export function createReceiverSlots(limits: SlotLimits): { enter(url: string): Promise<(() => void) | undefined> } {
  const receivers = new Map<string, { active: number; readonly waiting: (() => void)[] }>();

  return {
    async enter(url) {
      const origin = new URL(url).origin;
      const receiver = receivers.get(origin) ?? { active: 0, waiting: [] };
      receivers.set(origin, receiver);
      if (receiver.active >= limits.active) {
        if (receiver.waiting.length >= limits.waiting) return undefined;
        if (!(await waitForTurn(receiver.waiting))) return undefined;
      } else {
        receiver.active++;
      }
      return () => {
        const next = receiver.waiting.shift();
        // The slot goes straight to the next in line; it stays taken.
        if (next) return next();
        receiver.active--;
        if (receiver.active === 0) receivers.delete(origin);
      };
    },
  };

  function waitForTurn(line: (() => void)[]): Promise<boolean> {
    return new Promise((resolve) => {
      const turn = () => {
        clearTimeout(patience);
        resolve(true);
      };
      const patience = setTimeout(() => {
        line.splice(line.indexOf(turn), 1);
        resolve(false);
      }, limits.waitMs);
      line.push(turn);
    });
  }
}
