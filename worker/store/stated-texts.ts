import { z } from "zod";
import { showUnprintable } from "../../core/report/printable.js";

/** In UTF-16 units, without blanks at the ends. */
export const LONGEST = { person: 120, reason: 2_000, reference: 200, keyName: 100 } as const;

/**
 * What people say for the record, by route, page and command alike. It is kept for good and shown in other people's pages, lists and
 * terminals, so it has no control characters and no marks that turn the direction of writing.
 */
export const whoAndWhy = {
  person: line(LONGEST.person),
  reason: z.string().trim().min(1).max(LONGEST.reason).refine(isPrintable, "has a character that cannot be shown"),
  /** May be empty, as forms send what was not filled in. */
  reference: line(LONGEST.reference, 0),
};

/** Of a key: its client's name, and the holder's for it. */
export const keyNameText = line(LONGEST.keyName);

function line(longest: number, shortest = 1) {
  return z
    .string()
    .trim()
    .min(shortest)
    .max(longest)
    .refine((text) => isPrintable(text) && !/[\t\n\r\u2028\u2029]/.test(text), "must be one line that can be shown");
}

function isPrintable(text: string): boolean {
  return showUnprintable(text) === text;
}
