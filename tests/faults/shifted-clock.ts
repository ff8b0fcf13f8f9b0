const RealDate = Date;
let shiftMs = 0;

/** Moves this process's wall clock to so far from the true one, as a wrong time server does. The monotonic clock goes on. */
export function shiftClock(ms: number): void {
  shiftMs = ms;
  globalThis.Date = ShiftedDate as DateConstructor;
}

export const isClockShifted = (): boolean => shiftMs !== 0;

class ShiftedDate extends RealDate {
  constructor(...given: unknown[]) {
    super(...((given.length === 0 ? [RealDate.now() + shiftMs] : given) as [number]));
  }

  static override now(): number {
    return RealDate.now() + shiftMs;
  }
}
