import type { RequestHandler } from "express";
import { Problem } from "../problems.js";

/** No name, id or filter has the character U+0000, and PostgreSQL keeps no text with it. Bodies are looked at by checkJson. */
export const refuseNul: RequestHandler = (request, _response, next) => {
  if (request.originalUrl.includes("%00")) throw new Problem("path-encoding");
  next();
};
