/**
 * What a paper says against itself. Words of the trade in five languages; "not valid without signature" and the like are no
 * reservation, so the words for a paper that does not count are heard in headings only.
 */

/** Heard only where they are most of a short line, or of what a dash parts from it: "PRELIMINARY CERTIFICATE", "Entwurf". */
export const NOT_FINAL =
  /^(?:[\p{L}.]+ ){0,2}(?:preliminary|draft|void|cancelled|canceled|superseded|vorläufig\p{L}*|entwurf|ungültig|storniert|provisoire|brouillon|annulée?|provvisori[oa]|bozza|annullat[oa]|provisional|borrador|anulad[oa]|not for (?:release|use|construction)|nicht freigegeben|ne pas utiliser|non valido|non valable|no válido)(?: [\p{L}.]+){0,2}[.!]?$/iu;

/** Heard anywhere in a short sentence. */
export const NOT_MEASURED =
  /\b(?:(?:certificate|document|report|copy|zeugnis|bescheinigung|certificat|certificato|certificado)[^.]{0,30} (?:for information|zur information|pour information|per informazione|a título informativo)|typical (?:values?|analysis|results?|properties)|not measured|typische werte|richtwerte|valeurs (?:typiques|indicatives)|valori (?:tipici|indicativi)|valores (?:típicos|orientativos))(?!\p{L})/iu;

/** In a heading: the results under it are of other metal, or are told and not certified. */
export const OF_OTHER_METAL =
  /(?<!\p{L})(?:for (?:your )?(?:information|reference)(?: only)?|(?:previous|earlier|other|former) (?:deliver(?:y|ies)|heats?|casts?|orders?|results?|shipments?)|(?:nur )?zur information|(?:früherer?|vorheriger?|anderer?) (?:lieferung(?:en)?|schmelzen?|aufträge?)|(?:à titre d'information|pour information)|(?:livraisons?|coulées?|commandes?) (?:antérieures?|précédentes?)|(?:solo )?per informazione|(?:forniture|colate|ordini) precedenti|(?:fornitura|colata) precedente|(?:solo )?a título informativo|(?:entregas?|coladas?|pedidos?) anterior(?:es)?)(?!\p{L})/iu;

/** The judgement of whoever made the test, in a remark or beside a row of results. */
export const NOT_CONFORMING =
  /(?<!\p{L})(?:fail(?:ed|s|ure)?|reject(?:ed)?|non-?conforming|non-?conformity|nok|not (?:ok|acceptable|accepted|passed|conforming|met|fulfilled)|(?:does|do|did) not (?:conform|comply|meet|satisfy|fulfil)|out of (?:spec|specification|tolerance)|nicht (?:bestanden|erfüllt|i\. ?o\.|in ordnung|konform)|entspricht nicht|durchgefallen|non (?:conformes?|conformi|satisfaisante?|acceptée?|accettat[oa])|refusée?|rebutée?|respint[oa]|scartat[oa]|no (?:conformes?|apt[oa]|aceptad[oa])|rechazad[oa])(?!\p{L})/iu;

/** Conditions and promises, not statements: "void if altered", "nonconforming material will be replaced". */
export const CONDITIONAL =
  /(?<!\p{L})(?:if|unless|without|until|will|shall|may|in case|wenn|falls|ohne|bis|wird|kann|si|sauf|sans|se|salvo|senza|sin|mode|location|zone|lack)(?!\p{L})/iu;
