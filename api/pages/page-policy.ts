/** Pages load their own style and script, and talk to nobody else. */
export const PAGE_POLICY =
  "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'; " +
  "base-uri 'none'; frame-ancestors 'none'";
