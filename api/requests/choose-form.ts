import type { Request } from "express";
import { Problem } from "../problems.js";

const FORMS = ["application/json", "text/html"] as const;

/** JSON for programs, a page for people, by the Accept header; JSON where either will do. */
export function jsonOrPage(request: Request): "json" | "page" {
  const accepted = request.accepts([...FORMS]);
  if (accepted === false) throw new Problem("not-acceptable", { detail: `This is given as ${FORMS.join(" and ")}.` });
  return accepted === "text/html" ? "page" : "json";
}
