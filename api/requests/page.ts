import { BadCursor } from "../../worker/store/records.js";
import { Problem } from "../problems.js";

/** The store's word for a cursor that is none of its own becomes a refusal. */
export async function readPage<T>(read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (error instanceof BadCursor) throw new Problem("cursor-unknown");
    throw error;
  }
}

/** The address of the next page: the same query with the cursor put in. */
export function nextLink(originalUrl: string, cursor: string | undefined): { readonly next?: string } {
  if (cursor === undefined) return {};
  const url = new URL(originalUrl, "http://unused");
  url.searchParams.set("cursor", cursor);
  return { next: `${url.pathname}${url.search}` };
}
