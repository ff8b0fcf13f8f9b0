/** What a column of a tensile record holds. */
export type ColumnKind = "time" | "force" | "stress" | "strain" | "extension" | "crosshead";

/**
 * Headings as machines and laboratories write them, in English, German, French, Italian and Spanish. The order decides: true and
 * transverse values must not be taken for engineering ones, and the way of the crosshead not for that of the extensometer.
 */
const HEADINGS: readonly (readonly [kind: ColumnKind | "other", heading: RegExp])[] = [
  [
    "other",
    /\btrue\b|wahr|logar|vraie?\b|\bver[ao]\b|\breale?\b|verdader|tran?svers|width|quer|breiten|largeur|larghezza|anch(?:o|ura)|lateral|poisson/i,
  ],
  ["other", /temp(?!s\b|o\b)|pl[aá]sti|rate\b|geschw|speed|vitesse|velocit|velocidad|cycle|zyklus|ciclo/i],
  ["time", /time|zeit|^t$|^temps|^tempo\b|tiempo/i],
  [
    "crosshead",
    /cross-?\s?head|travers|stroke|\bhub\b|kolbenweg|machine|maschine|position|actuator|\bram\b|grip|standardweg|separation|v[ée]rin|m[âa]choire|\bcorsa\b|pistone|cabezal|carrera/i,
  ],
  ["stress", /stress|spannung|^σ|sigma|^r$|contrainte|\btensione\b|\btensi[óo]n\b|sollecitazione|sforzo|esfuerzo/i],
  ["force", /force|load|kraft|\blast\b|^f$|\beffort|charge|forza|carico|fuerza|carga/i],
  ["strain", /strain|dehnung|ε|epsilon|^e$|d[ée]formation|deformazion|deformaci[óo]n/i],
  [
    "extension",
    /ext[eo]ns|elongation|verl[äa]ngerung|l[äa]ngen[äa]nderung|displacement|\bweg|aufnehmer|Δ\s?l|delta\s?l|^dl$|allongement|d[ée]placement|allungamento|estensione|spostamento|alargamiento|elongaci[óo]n|desplazamiento/i,
  ],
];

export function columnKind(heading: string): ColumnKind | undefined {
  const kind = HEADINGS.find(([, words]) => words.test(heading))?.[0];
  return kind === "other" ? undefined : kind;
}
