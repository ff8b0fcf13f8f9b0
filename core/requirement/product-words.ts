/**
 * Delivery conditions as certificates and standards write them, brought to one word each. The trade's usual abbreviations
 * (AT, +AT, Q+T, N) are those of EN 10088-1, EN 10027-1 and ASTM ordering; common practice, no single source.
 */
const CONDITIONS: readonly (readonly [pattern: RegExp, condition: string])[] = [
  [/\b1\/16[ -]?(h|hard)\b/, "1/16 hard"],
  [/\b1\/8[ -]?(h|hard)\b/, "1/8 hard"],
  [/\b(1\/4|quarter)[ -]?(h|hard)\b/, "1/4 hard"],
  [/\b(1\/2|half)[ -]?(h|hard)\b/, "1/2 hard"],
  [/\b(3\/4|three[ -]quarter)[ -]?(h|hard)\b/, "3/4 hard"],
  [/\bfull[ -]?hard\b/, "full hard"],
  [/\bcondition b\b/, "condition B"],
  [/\bas[ -]?welded\b/, "as welded"],
  [/anneal.*\b(cold|strain|work)[ -]?(worked|hardened|drawn|stretched)\b/, "cold worked"],
  [/\b(quenched (and|&) tempered|q ?(\+|&) ?t|\+qt)\b/, "quenched and tempered"],
  [/\b(stress[ -]reliev)/, "stress relieved"],
  [/\b(normali[sz]ed (and|&) tempered|n ?\+ ?t|\+nt)\b/, "normalized and tempered"],
  [/\b(normali[sz]ed|normali[sz]ing|\+n)\b/, "normalized"],
  [
    /(solution[ -]?(anneal|treat|heat)|l(ö|oe)sungsgegl(ü|ue)ht|hypertremp|solubili|hipertempl|\+?\bat\b)/,
    "solution annealed",
  ],
  [/\banneal|\bgegl(ü|ue)ht|\brecuit|\bricott|\brecocid/, "annealed"],
  [/\b(cold|strain|work)[ -]?(worked|hardened|drawn|stretched)\b|\bkaltverfestigt\b|écroui/, "cold worked"],
  [/\b(as[ -]rolled|\+ar)\b/, "as rolled"],
];

/** The words that conditions are brought to, for whoever has to mend one that is not known. */
export const CONDITION_NAMES = CONDITIONS.map(([, condition]) => condition).join(", ");

/** One word for a delivery condition, or undefined where the words are not known: an unknown word must not choose a limit. */
export function normaliseCondition(text: string): string | undefined {
  const lower = text
    .normalize("NFC")
    .toLowerCase()
    .replaceAll("¼", "1/4")
    .replaceAll("½", "1/2")
    .replaceAll("¾", "3/4");
  return CONDITIONS.find(([pattern]) => pattern.test(lower))?.[1];
}

/** "Annealed" on a certificate of an austenitic grade means solution annealed; the standard's word is kept in its limits. */
export function sameCondition(left: string, right: string): boolean {
  const annealed = ["annealed", "solution annealed"];
  return left === right || (annealed.includes(left) && annealed.includes(right));
}

/** Lower case, singular, inner spaces folded: "Plates" is "plate". European standards say tube where American ones say pipe. */
export function normaliseForm(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replace(/\s+/g, " ")
    .replace(/(?<=sh|ch|x)es$|(?<=[^s])s$/, "")
    .replace(/\btube$/, "pipe");
}
