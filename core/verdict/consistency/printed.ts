import type { NumberedReading } from "../../certificate/certificate.js";

/** Values that belong together, under a key that holds everything printed of them. */
export type Printed = readonly [key: string, readings: readonly NumberedReading[]];
