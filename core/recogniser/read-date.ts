import { withoutAccents } from "./plain-text.js";

const MONTHS: readonly (readonly string[])[] = [
  ["jan"],
  ["feb", "fev"],
  ["mar", "marz", "maer"],
  ["apr", "avr", "abr"],
  ["may", "mai", "mag"],
  ["jun", "juin", "giu"],
  ["jul", "juil", "lug"],
  ["aug", "aou", "ago"],
  ["sep", "set"],
  ["oct", "okt", "ott"],
  ["nov"],
  ["dec", "dez", "dic"],
];

/** ISO date from print, "ambiguous" where day and month can't be told apart ("03/04/2026"), undefined where there is none. */
export function readDate(text: string): string | "ambiguous" | undefined {
  const plain = withoutAccents(text.normalize("NFKC")).toLowerCase();
  const iso = /(?<!\d)(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)/.exec(plain);
  if (iso) return isoDate(iso[1]!, iso[2]!, iso[3]!);
  const named =
    /(?<!\d)(\d{1,2})(?:st|nd|rd|th)?[\s.\-/]*(?:de |di )?([a-z]{3,9})\.?[\s.\-/,]*(?:de )?(\d{4})(?!\d)/.exec(plain);
  if (named) return isoDate(named[3]!, monthOf(named[2]!), named[1]!);
  const american = /([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})(?!\d)/.exec(plain);
  if (american) return isoDate(american[3]!, monthOf(american[1]!), american[2]!);
  const numeric = /(?<!\d)(\d{1,2})([./-])(\d{1,2})\2(\d{4})(?!\d)/.exec(plain);
  if (!numeric) return undefined;
  const [, first = "", mark, second = "", year = ""] = numeric;
  // Dots are only written day first; slashes and hyphens in both orders.
  if (mark === "." || Number(first) > 12) return isoDate(year, second, first);
  if (Number(second) > 12) return isoDate(year, first, second);
  return first === second ? isoDate(year, second, first) : "ambiguous";
}

function monthOf(word: string): string {
  const index = MONTHS.findIndex((names) => names.some((name) => word.startsWith(name)));
  return index < 0 ? "" : String(index + 1);
}

const DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

function isoDate(year: string, month: string, day: string): string | undefined {
  const days = DAYS[Number(month) - 1];
  if (!days || Number(day) < 1 || Number(day) > days) return undefined;
  return `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
}
