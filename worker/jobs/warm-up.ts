import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Verifier, verifyDocuments } from "./verify-documents.js";

/**
 * Judges a certificate of its own, of a mill that does not exist, and forgets it: the first sender should not wait for code to
 * be compiled. What goes wrong here goes wrong for the first document too, and is told there.
 */
export async function warmUp(verifier: Verifier): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), "heatgate-warm-up-"));
  try {
    const path = join(folder, "certificate.csv");
    await writeFile(path, CERTIFICATE);
    const document = { name: "certificate.csv", mediaType: "text/csv", sha256: "0".repeat(64), path };
    for (let round = 0; round < ROUNDS; round++) await verifyDocuments(verifier, [document], null);
  } catch {
    // See above.
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

const ROUNDS = 3;

const CERTIFICATE = `Inspection certificate 3.1;EN 10204;;;;;;;
Material;ASTM A240/A240M S30403;;;;;;;
Heat;C %;Si %;Mn %;P %;S %;Cr %;Ni %;N %
W0001;0.021;0.41;1.52;0.031;0.002;18.12;8.05;0.061
Heat;Rp0.2 MPa;Rm MPa;A50 %;HBW;;;;
W0001;285;612;54;172;;;;
`;
