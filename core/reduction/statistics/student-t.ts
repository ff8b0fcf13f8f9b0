/** Two-sided 95 % quantiles of Student's t for 1 to 30 degrees of freedom; the printed table that every textbook has. */
const QUANTILES = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145, 2.131, 2.12, 2.11,
  2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048, 2.045, 2.042,
];

/** Half width of a 95 % interval in standard errors. Beyond 30 degrees of freedom the expansion in 1/f is good to the third digit. */
export function studentT95(degreesOfFreedom: number): number {
  if (degreesOfFreedom < 1) return Number.POSITIVE_INFINITY;
  const tabled = QUANTILES[Math.floor(degreesOfFreedom) - 1];
  return tabled ?? 1.95996 + 2.37227 / degreesOfFreedom + 2.8225 / degreesOfFreedom ** 2;
}
