import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A key and a certificate for this machine that no authority has signed. */
export function selfSigned(): { readonly key: Buffer; readonly cert: Buffer } {
  const folder = mkdtempSync(join(tmpdir(), "heatgate-tls-"));
  const [key, cert] = [join(folder, "key.pem"), join(folder, "cert.pem")];
  try {
    const made = ["req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2"];
    const names = ["-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1"];
    execFileSync("openssl", [...made, ...names, "-keyout", key, "-out", cert], { stdio: "ignore" });
    return { key: readFileSync(key), cert: readFileSync(cert) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
