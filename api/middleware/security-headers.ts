import type { RequestHandler } from "express";

/** For answers that are data, not pages; the few that are pages set their own Content-Security-Policy. */
const HEADERS = {
  "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
};

export const securityHeaders: RequestHandler = (_request, response, next) => {
  response.set(HEADERS);
  next();
};
