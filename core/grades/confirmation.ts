import { z } from "zod";
import { decimalText, type Library, type LibraryGrade, type Limit } from "./grade.js";
import { limitText } from "./limit-text.js";

const confirmationSchema = z.strictObject({
  /** Full name of the limit: astm-a240/2007e1/s30403#A50. */
  limit: z.string().regex(/^[^#\s]+#\S+$/, "a limit is named <grade id>#<limit id>"),
  /** The limit as it stood when it was confirmed, in one line (see limitText). Another value is not confirmed. */
  value: z.string().min(1),
  by: z.string().trim().min(1),
  on: z.iso.date(),
  /** What it was compared with: "ASTM A240/A240M-20a, Table 2, our copy no. 3". */
  document: z.string().trim().min(1),
});
export type Confirmation = z.infer<typeof confirmationSchema>;

/** confirmations.json in a user's grade folder. */
export const confirmationsSchema = z.strictObject({
  confirmations: z.literal(1),
  limits: z.array(confirmationSchema),
});
export type Confirmations = z.infer<typeof confirmationsSchema>;

/** A confirmation that does not hold: `at` counts from 0. */
export interface ConfirmationFault {
  readonly at: number;
  readonly field: "limit" | "value";
  readonly message: string;
}

/**
 * Marks limits as confirmed by the user, so that they may fail a heat. A confirmation holds for exactly the value that was confirmed:
 * when the library's has changed since, it is a fault, never silently kept or dropped.
 */
export function applyConfirmations(
  library: Library,
  { limits }: Confirmations,
): { readonly library: Library; readonly faults: readonly ConfirmationFault[] } {
  const faults: ConfirmationFault[] = [];
  const byGrade = new Map(library.grades.map((entry) => [entry.grade.id, entry]));
  for (const [at, confirmation] of limits.entries()) {
    const [gradeId = "", limitId = ""] = splitLimitName(confirmation.limit);
    const entry = byGrade.get(gradeId);
    const limit = entry?.grade.limits.find(({ id }) => id === limitId);
    if (!entry || !limit) {
      faults.push({ at, field: "limit", message: `there is no limit ${confirmation.limit}` });
    } else if (limitText(limit) !== confirmation.value) {
      const message = `the library now says "${limitText(limit)}": compare it with your document and confirm again`;
      faults.push({ at, field: "value", message });
    } else {
      byGrade.set(gradeId, withLimit(entry, confirmed(limit, confirmation)));
    }
  }
  return { library: { ...library, grades: [...byGrade.values()] }, faults };
}

/** [grade id, limit id] of a full name. */
export function splitLimitName(name: string): [gradeId: string, limitId: string] {
  const at = name.indexOf("#");
  return at < 0 ? [name, ""] : [name.slice(0, at), name.slice(at + 1)];
}

function confirmed(limit: Limit, { by, on, document }: Confirmation): Limit {
  const { conflict: _settled, ...known } = limit.known;
  return { ...limit, known: { ...known, how: "user", confirmed: { by, on, document } } };
}

function withLimit(entry: LibraryGrade, limit: Limit): LibraryGrade {
  const limits = entry.grade.limits.map((other) => (other.id === limit.id ? limit : other));
  return { ...entry, grade: { ...entry.grade, limits } };
}

/** The numbers that a limit bounds with, in the order of its text; they must all be named to confirm it. */
function boundNumbers(limit: Limit): readonly string[] {
  const computed = [limit.minFrom, limit.maxFrom].flatMap((from) => (from ? [from.plus, from.times] : []));
  return [...computed, limit.min, limit.max, limit.impact?.single].filter((text) => text !== undefined);
}

/** Whether `stated` names exactly the limit's numbers, with the digits as printed: 0.03 does not confirm 0.030. */
export function statesValue(limit: Limit, stated: string): boolean {
  const numbers = stated.match(/[+-]?\d+(?:\.\d+)?/g) ?? [];
  const wanted = boundNumbers(limit);
  return (
    numbers.every((text) => decimalText.safeParse(text).success) &&
    numbers.length === wanted.length &&
    numbers.every((text, index) => text === wanted[index])
  );
}
