/**
 * Product forms by the words that name them (plain: lower case, no accents). Order matters: the special before the general.
 * "Blech", "tôle", "lamiera" and "chapa" alone are left out: each means plate and sheet, which have limits of their own.
 */
export const FORMS: readonly (readonly [form: string, words: readonly string[]])[] = [
  [
    "weld metal",
    ["weld metal", "filler metal", "welding wire", "electrode", "schweissgut", "schweisszusatz", "welding consumable"],
  ],
  ["fitting", ["fitting", "elbow", "tee", "reducer", "rohrbogen", "raccord", "raccordo", "accesorio"]],
  ["flange", ["flange", "flansch", "bride", "flangia", "brida"]],
  ["forging", ["forging", "forged", "schmiedestuck", "piece forgee", "forgiato", "forja"]],
  ["casting", ["casting", "cast steel", "gussstuck", "piece moulee", "getto", "fundicion"]],
  ["pipe", ["pipe", "rohr", "tuyau", "tubo"]],
  ["tube", ["tube", "tubing"]],
  [
    "plate",
    [
      "plate",
      "grobblech",
      "quartoblech",
      "tole forte",
      "lamiera da treno",
      "chapa gruesa",
      "quarto",
      "tole quarto",
      "tole epaisse",
      "lamiera grossa",
    ],
  ],
  ["strip", ["strip", "coil", "band", "bande", "bobine", "nastro", "banda", "fleje"]],
  ["sheet", ["sheet", "feinblech", "tole fine", "lamierino", "chapa fina"]],
  ["bar", ["round bar", "bar", "rod", "stabstahl", "rundstab", "stab", "barre", "barra"]],
  ["wire", ["wire", "draht", "fil", "filo", "alambre"]],
  ["section", ["section", "beam", "profile", "profil", "profilo", "perfil", "trager"]],
];

/** Delivery conditions by the words that name them. */
export const CONDITIONS: readonly (readonly [condition: string, words: readonly string[]])[] = [
  [
    "solution annealed",
    [
      "solution anneal",
      "solution treat",
      "solution heat treat",
      "sol. ann",
      "losungsgegluht",
      "loesungsgeglueht",
      "losungsgluhen",
      "hypertrempe",
      "solubilizza",
      "solubilizado",
      "hipertemple",
      "temple de solubilizacion",
      "+at",
      "mise en solution",
    ],
  ],
  ["1/16 hard", ["1/16 hard"]],
  ["1/8 hard", ["1/8 hard"]],
  ["1/4 hard", ["1/4 hard", "quarter hard"]],
  ["1/2 hard", ["1/2 hard", "half hard"]],
  ["3/4 hard", ["3/4 hard"]],
  ["full hard", ["full hard"]],
  [
    "quenched and tempered",
    [
      "quenched and tempered",
      "quenched + tempered",
      "vergutet",
      "verguetet",
      "trempe et revenu",
      "bonificato",
      "temple y revenido",
      "+qt",
    ],
  ],
  ["normalized and tempered", ["normalized and tempered", "normalised and tempered", "+nt"]],
  [
    "normalized",
    ["normalized", "normalised", "normalgegluht", "normalgeglueht", "normalise", "normalizzato", "normalizado", "+n"],
  ],
  ["thermomechanically rolled", ["thermomechanical", "tmcp", "thermomechanisch", "+m"]],
  ["stress relieved", ["stress relieved", "spannungsarm"]],
  ["annealed", ["annealed", "gegluht", "geglueht", "recuit", "ricotto", "recocido"]],
  ["cold worked", ["cold worked", "cold drawn", "strain hardened", "kaltverfestigt", "ecroui", "incrudito"]],
  ["as rolled", ["as rolled", "as-rolled", "walzzustand", "brut de laminage", "+ar"]],
  ["as welded", ["as welded", "as-welded"]],
];
