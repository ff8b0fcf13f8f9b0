import { setTimeout as sleep } from "node:timers/promises";
import type { World } from "./world.js";

/** One thing that goes wrong, and what must hold all the same. */
export interface Fault {
  readonly name: string;
  /** From the repair (or from the fault, where nothing needs repair) until everything accepted is final and told. */
  readonly limitMs: number;
  /** Part of the short run. */
  readonly quick?: boolean;
  run(random: () => number): Promise<FaultResult>;
}

export interface FaultResult {
  readonly recoveredMs: number;
  readonly accepted: number;
  /** What was seen on the way: refusals, deaths, second tries. */
  readonly note: string;
  readonly broken: readonly string[];
}

/** Hands documents in at an uneven rate until told to stop. */
export function startLoad(world: World, random: () => number, perSecond = 40): { stop(): Promise<void> } {
  let running = true;
  const loading = (async () => {
    while (running) {
      const pending = [world.submit(`wait ${Math.floor(random() * 40)} ${random()}`)];
      if (random() < 0.3) pending.push(world.submit(`wait 0 ${random()}`));
      await Promise.all(pending);
      await sleep((random() * 2_000) / perSecond);
    }
  })();
  return {
    async stop() {
      running = false;
      await loading;
    },
  };
}

/** Waits for everything to be final and told, looks at the whole history, and takes the world down. */
export async function conclude(world: World, limitMs: number, note: string): Promise<FaultResult> {
  try {
    const recoveredMs = await world.settle(limitMs * 2);
    const broken = await world.check();
    const refused = world.refused() > 0 ? `, ${world.refused()} refused` : "";
    return { recoveredMs, accepted: world.accepted.length, note: `${note}${refused}`, broken };
  } finally {
    await world.end();
  }
}
