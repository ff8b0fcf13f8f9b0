/**
 * Radius of the pendulum's striking edge in mm: 2 or 8 by ISO 148-1 (KV2, KV8), 8 by ASTM E23 and A370. They are not
 * interchangeable: 8 mm reads higher above about 200 J, 2 mm slightly higher up to 120 J (NIST; ASTM STP 1380).
 */
type StrikerMm = 2 | 8;

export function compareStriker(
  required: StrikerMm | undefined,
  stated: StrikerMm | undefined,
): "as required" | "differs" | "not stated" {
  if (required === undefined) return "as required";
  if (stated === undefined) return "not stated";
  return required === stated ? "as required" : "differs";
}
