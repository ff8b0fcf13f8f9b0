import type { RequestHandler } from "express";

/** For answers that are data, not pages; the few that are pages set their own Content-Security-Policy. */
const HEADERS = {
  "Content-Security-Policy": "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
};

/** Browsers that came by https once come by nothing else for a year. Hosts below this one are their owners' business. */
const ONLY_BY_HTTPS = { "Strict-Transport-Security": "max-age=31536000" };

export function securityHeaders(publicUrl: string): RequestHandler {
  const headers = publicUrl.startsWith("https:") ? { ...HEADERS, ...ONLY_BY_HTTPS } : HEADERS;
  return (_request, response, next) => {
    response.set(headers);
    next();
  };
}
