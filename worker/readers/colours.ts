/** Below this contrast writing is taken for invisible: a watermark in the palest readable grey has more. */
const LEAST_CONTRAST = 1.2;

/** Whether writing of one colour can be told from what it stands on; both "#rrggbb". */
export function canBeTold(writing: string, paper: string): boolean {
  return contrast(writing, paper) >= LEAST_CONTRAST;
}

/** 1 for equal colours, 21 for black on white, by the relative luminance of sRGB (WCAG 2.2, contrast ratio). */
function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
