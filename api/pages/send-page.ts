import type { Response } from "express";
import { PAGE_POLICY } from "./page-policy.js";

/** Pages show one client's data, so nothing between may keep them. */
export const PAGE_HEADERS = {
  "Content-Security-Policy": PAGE_POLICY,
  "Cache-Control": "no-store",
  "Content-Type": "text/html; charset=utf-8",
} as const;

export function sendPage(response: Response, page: string): void {
  response.set(PAGE_HEADERS).send(page);
}
