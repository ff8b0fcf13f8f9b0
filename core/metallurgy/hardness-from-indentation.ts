/** Hardness numbers from what the machine leaves in the metal. Ordinary numbers: measured lengths, not yet reported values. */

/** ISO 6506-1: force in N, ball and mean indentation diameter in mm. */
export function brinell(forceN: number, ballMm: number, indentationMm: number): number {
  if (!(indentationMm > 0 && indentationMm < ballMm)) throw new Error("an indentation is smaller than its ball");
  return (0.102 * 2 * forceN) / (Math.PI * ballMm * (ballMm - Math.sqrt(ballMm ** 2 - indentationMm ** 2)));
}

/** ISO 6507-1: force in N, mean diagonal in mm. */
export function vickers(forceN: number, diagonalMm: number): number {
  return (0.1891 * forceN) / diagonalMm ** 2;
}

/** ISO 6508-1: permanent depth under preload in mm. */
export function rockwellC(depthMm: number): number {
  return 100 - depthMm / 0.002;
}

export function rockwellB(depthMm: number): number {
  return 130 - depthMm / 0.002;
}
