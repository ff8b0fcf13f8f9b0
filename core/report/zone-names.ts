import type { Zone } from "../certificate/certificate.js";

export const ZONE_NAMES: Readonly<Record<Zone, string>> = {
  base: "base metal",
  weld: "weld",
  haz: "heat-affected zone",
};
