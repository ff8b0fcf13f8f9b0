import { HEAT_NOT_STATED } from "../certificate/heat-number.js";

/** "heat H4471"; what stands for a heat that no paper names is a title already. */
export function heatTitle(heat: string): string {
  return heat.startsWith(HEAT_NOT_STATED) ? heat : `heat ${heat}`;
}
