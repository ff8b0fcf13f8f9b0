import { createPrivateKey } from "node:crypto";
import { expect, test } from "vitest";
import { isSignedBy, signText, thumbprint } from "../../worker/store/signing/ed25519.js";

// RFC 8037, appendix A: A.1 the key, A.3 its thumbprint, A.4 a signature with it. The key is that of RFC 8032, 7.1, test 1.
const X = "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo";
const D = "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A";
const SIGNED = "eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc";
const SIGNATURE = "hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg";

test("the thumbprint of RFC 8037, A.3", () => {
  expect(thumbprint(X)).toBe("kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k");
});

test("the signature of RFC 8037, A.4 comes out to the letter and is verified", () => {
  const key = createPrivateKey({ format: "jwk", key: { kty: "OKP", crv: "Ed25519", x: X, d: D } });
  expect(signText(key, SIGNED).toString("base64url")).toBe(SIGNATURE);
  expect(isSignedBy(X, SIGNED, Buffer.from(SIGNATURE, "base64url"))).toBe(true);
});

test("the signature of RFC 8032, 7.1, test 1, over nothing", () => {
  const signature =
    "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b";
  expect(isSignedBy(X, "", Buffer.from(signature, "hex"))).toBe(true);
  expect(isSignedBy(X, "x", Buffer.from(signature, "hex"))).toBe(false);
});
