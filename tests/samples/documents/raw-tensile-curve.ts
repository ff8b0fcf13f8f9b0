import { austeniticStress, normalNoise } from "../../reference/synthetic-curve.js";

/** Rates of ISO 6892-1, method A: slow over the elastic part and the proof strength, faster after it; 10 samples a second. */
const [SLOW_PER_SECOND, FAST_PER_SECOND, SLOW_UNTIL, SAMPLES_PER_SECOND] = [0.00025, 0.0067, 0.02, 10] as const;
/** The extensometer is taken off before the piece necks; the load cell goes on to the break. */
const [EXTENSOMETER_OFF, FRACTURE] = [0.25, 0.55] as const;
const [WIDTH_MM, THICKNESS_MM, GAUGE_MM] = [12.52, 12.08, 50] as const;

const HEADER = [
  "Calder Test House",
  "Tensile test record,CTH-0352",
  "Client,Tarnholm Cryogenics",
  "Order No.,T-204 / 9",
  "Heat No.,N43377",
  "Specimen,CTH-0352-T1",
  "Material,304L",
  "Test standard,ISO 6892-1",
  "Orientation,transverse",
  "Test temperature,21,°C",
  `Width b0,${WIDTH_MM},mm`,
  `Thickness a0,${THICKNESS_MM},mm`,
  `Gauge length L0,${GAUGE_MM},mm`,
  `Extensometer length Le,${GAUGE_MM},mm`,
  "Final length Lu,77.5,mm",
  "Rp0.2,260,MPa",
  "Rm,620,MPa",
  "Elongation after fracture,55,%",
  "",
  "Time,Force,Extension",
  "s,kN,mm",
];

/**
 * A strip of the invented steel as a machine exports it: Rp0.2 260 MPa and Rm 620 MPa by construction, noise of the load cell
 * and the resolution of both channels on top.
 */
export function rawTensileCurve(): Uint8Array {
  const noise = normalNoise(352);
  const rows: string[] = [];
  const slowSeconds = SLOW_UNTIL / SLOW_PER_SECOND;
  const seconds = slowSeconds + (FRACTURE - SLOW_UNTIL) / FAST_PER_SECOND;
  for (let sample = 0; sample <= seconds * SAMPLES_PER_SECOND; sample++) {
    const at = sample / SAMPLES_PER_SECOND;
    const strain = at <= slowSeconds ? at * SLOW_PER_SECOND : SLOW_UNTIL + (at - slowSeconds) * FAST_PER_SECOND;
    const forceKn = ((austeniticStress(strain) + 0.15 * noise()) * WIDTH_MM * THICKNESS_MM) / 1000;
    const extension = strain <= EXTENSOMETER_OFF ? (strain * GAUGE_MM).toFixed(4) : "";
    rows.push(`${at.toFixed(1)},${forceKn.toFixed(4)},${extension}`);
  }
  return new TextEncoder().encode(`${[...HEADER, ...rows].join("\n")}\n`);
}
