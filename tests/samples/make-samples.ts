import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { clean304lPlate } from "./documents/clean-304l-plate.js";
import { delivered301 } from "./documents/delivered-301.js";
import { dualCertifiedPlate } from "./documents/dual-certified-plate.js";
import { hazImpactRecord, hazPlateCertificate } from "./documents/haz-impact.js";
import { mixedWorkbook } from "./documents/mixed-workbook.js";
import { pendulumPlateCertificate, rawPendulumReadings } from "./documents/raw-pendulum-readings.js";
import { rawTensileCurve } from "./documents/raw-tensile-curve.js";

/** The samples that are made here, by path below samples/: workbooks and curves. Other text files are written by hand. */
export const GENERATED: Readonly<Record<string, () => Uint8Array | Promise<Uint8Array>>> = {
  "clean-304l-plate/norrvik-ns-88213.xlsx": clean304lPlate,
  "301-delivered-as-304l/norrvik-ns-88377.xlsx": delivered301,
  "dual-certified-plate/harlow-bend-hb-20417.xlsx": dualCertifiedPlate,
  "haz-impact-too-low/norrvik-ns-88402.xlsx": hazPlateCertificate,
  "haz-impact-too-low/calder-cth-0311.xlsx": hazImpactRecord,
  "mixed-workbook/brackwater-bm-5530.xlsx": mixedWorkbook,
  "raw-tensile-curve/calder-cth-0352.csv": rawTensileCurve,
  "raw-pendulum-readings/norrvik-ns-88436.xlsx": pendulumPlateCertificate,
  "raw-pendulum-readings/calder-cth-0360.xlsx": rawPendulumReadings,
};

export const SAMPLES_FOLDER = fileURLToPath(new URL("../../samples/", import.meta.url));

/** Writes them all: npx tsx tests/samples/make-samples.ts */
async function makeSamples(): Promise<void> {
  for (const [path, make] of Object.entries(GENERATED)) {
    const file = join(SAMPLES_FOLDER, path);
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, await make());
    console.log(path);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await makeSamples();
