/** Results above this share of the pendulum's energy are approximate (ISO 148-1, clause 8.2; ASTM E23; both from memory). */
const CAPACITY_SHARE = 0.8;

export function isWithinCapacity(energyJ: number, capacityJ: number): boolean {
  return energyJ <= CAPACITY_SHARE * capacityJ;
}

/** Allowed difference of the bath from the specified temperature, °C (from memory of both standards). */
const TEMPERATURE_TOLERANCE_C = { "ASTM E23": 1, "ISO 148-1": 2 } as const;
export type ImpactStandard = keyof typeof TEMPERATURE_TOLERANCE_C;

export function temperatureToleranceC(standard: ImpactStandard): number {
  return TEMPERATURE_TOLERANCE_C[standard];
}

/** Decimals such as -196 and -195.1 are not exact in binary: a millionth of a degree is none. */
const TINY_C = 1e-6;

export function isWithinTemperature(specifiedC: number, actualC: number, toleranceC: number): boolean {
  return Math.abs(actualC - specifiedC) <= toleranceC + TINY_C;
}

/** From bath to break: a longer way warms the piece (ISO 148-1, clause 8.3, and ASTM E23: 5 s; from memory). */
export const LONGEST_TRANSFER_SECONDS = 5;

export function impactStandardFrom(text: string | undefined): ImpactStandard | undefined {
  if (text === undefined) return undefined;
  if (/e\s?23\b/i.test(text)) return "ASTM E23";
  return /148/.test(text) ? "ISO 148-1" : undefined;
}
