/** Stand in every report. Heatgate assists; it replaces neither the code nor the person who answers for the vessel. */
export const CAUTIONS: readonly string[] = [
  "Heatgate assists a competent person. The governing code, the purchase order and licensed practice prevail over this report.",
  "Limits must be checked against the standard in force before they are relied on; each finding says how its limit is known.",
  "What could not be read or decided is said to be undetermined. Undetermined is not a pass.",
];
