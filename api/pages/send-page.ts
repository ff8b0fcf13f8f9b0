import type { Response } from "express";
import { PAGE_POLICY } from "./page-policy.js";

/** Pages show one client's data, so nothing between may keep them. */
export function sendPage(response: Response, page: string): void {
  response.set({ "Content-Security-Policy": PAGE_POLICY, "Cache-Control": "no-store" }).type("text/html").send(page);
}
