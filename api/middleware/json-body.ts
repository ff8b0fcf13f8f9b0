import express, { type RequestHandler } from "express";
import { Problem } from "../problems.js";
import { refuseRepeated } from "../requests/parse-json.js";

/** A JSON body of at most `limit` ("64kb"), whatever type it is declared as. */
export function jsonBody(limit: string): RequestHandler {
  return express.json({
    limit,
    type: () => true,
    verify: (_request, _response, bytes, encoding) => refuseRepeated(textOf(bytes, encoding), "The body"),
  });
}

/** In the words of Express the encoding is "utf-8" where the sender names none. */
function textOf(bytes: Buffer, encoding: string): string {
  try {
    return new TextDecoder(encoding).decode(bytes);
  } catch {
    throw new Problem("body-encoding");
  }
}
