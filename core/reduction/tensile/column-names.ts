/** What a column of a tensile record holds. */
export type ColumnKind = "time" | "force" | "stress" | "strain" | "extension" | "crosshead";

/**
 * Headings as machines and laboratories write them, English and German. The order decides: true and transverse values must not be
 * taken for engineering ones, and the way of the crosshead not for that of the extensometer.
 */
const HEADINGS: readonly (readonly [kind: ColumnKind | "other", heading: RegExp])[] = [
  [
    "other",
    /\btrue\b|wahr|logar|transvers|width|quer|breiten|lateral|poisson|temp|plastic|plasti[sz]ch|rate\b|geschw|speed|cycle/i,
  ],
  ["time", /time|zeit|^t$/i],
  [
    "crosshead",
    /cross-?\s?head|travers|stroke|\bhub\b|kolbenweg|machine|maschine|position|actuator|\bram\b|grip|standardweg|separation/i,
  ],
  ["stress", /stress|spannung|^σ|sigma|^r$/i],
  ["force", /force|load|kraft|\blast\b|^f$/i],
  ["strain", /strain|dehnung|ε|epsilon|^e$/i],
  [
    "extension",
    /ext[eo]ns|elongation|verl[äa]ngerung|l[äa]ngen[äa]nderung|displacement|\bweg|aufnehmer|Δ\s?l|delta\s?l|^dl$/i,
  ],
];

export function columnKind(heading: string): ColumnKind | undefined {
  const kind = HEADINGS.find(([, words]) => words.test(heading))?.[0];
  return kind === "other" ? undefined : kind;
}
