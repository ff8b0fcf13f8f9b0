/** ASTM E112 grain size number from the mean intercept length: G = -6.6438 log10(length in mm) - 3.288. */
export function grainSizeNumber(meanInterceptMm: number): number {
  if (!(meanInterceptMm > 0)) throw new Error("a mean intercept length is above zero");
  return -6.6438 * Math.log10(meanInterceptMm) - 3.288;
}
