/** How one mill or laboratory prints: its language, decimal sign, units, and words. */
export interface Style {
  readonly language: string;
  readonly comma: boolean;
  readonly stress: "MPa" | "N/mm²" | "ksi" | "kgf/mm²";
  readonly hasRp1: boolean;
  readonly gauges: readonly string[];
  readonly words: Words;
}

export interface Words {
  readonly heat: string;
  readonly certificate: string;
  readonly order: string;
  readonly grade: string;
  readonly chemistry: string;
  readonly tensile: string;
  readonly impact: string;
  readonly temperature: string;
  readonly zone: string;
  readonly specimen: string;
  readonly average: string;
  readonly min: string;
  readonly max: string;
  readonly actual: string;
  readonly element: string;
  readonly strengths: { readonly Rm: string; readonly "Rp0.2": string; readonly "Rp1.0": string };
  readonly elongations: Readonly<Record<string, string>>;
  readonly zones: { readonly base: string; readonly weld: string; readonly haz: string };
  readonly lateral: string;
  readonly heatAnalysis: string;
  readonly productAnalysis: string;
  readonly analysis: string;
}

const ENGLISH: Words = {
  heat: "Heat No.",
  certificate: "Certificate No.",
  order: "Purchase order",
  grade: "Grade",
  chemistry: "Chemical composition",
  tensile: "Tensile test",
  impact: "Charpy V-notch impact test",
  temperature: "Test temperature",
  zone: "Location",
  specimen: "Specimen",
  average: "Average",
  min: "min.",
  max: "max.",
  actual: "Actual",
  element: "Element",
  strengths: { Rm: "Tensile strength", "Rp0.2": "Yield strength 0.2 %", "Rp1.0": "Proof strength 1.0 %" },
  elongations: { A: "Elongation A5", A50: "Elongation 50 mm" },
  zones: { base: "Base metal", weld: "Weld metal", haz: "HAZ" },
  lateral: "Lateral expansion",
  heatAnalysis: "Ladle analysis",
  productAnalysis: "Product analysis",
  analysis: "Analysis type",
};

const SYMBOLS: Words["strengths"] = { Rm: "Rm", "Rp0.2": "Rp0.2", "Rp1.0": "Rp1.0" };

const GERMAN: Words = {
  heat: "Schmelze-Nr.",
  certificate: "Zeugnis-Nr.",
  order: "Bestell-Nr.",
  grade: "Werkstoff",
  chemistry: "Chemische Zusammensetzung",
  tensile: "Zugversuch",
  impact: "Kerbschlagbiegeversuch ISO-V",
  temperature: "Prüftemperatur",
  zone: "Kerblage",
  specimen: "Probe",
  average: "Mittelwert",
  min: "Soll min.",
  max: "Soll max.",
  actual: "Ist",
  element: "Element",
  strengths: { Rm: "Zugfestigkeit Rm", "Rp0.2": "Dehngrenze Rp0,2", "Rp1.0": "Dehngrenze Rp1,0" },
  elongations: { A: "Bruchdehnung A", A50: "Bruchdehnung A50" },
  zones: { base: "Grundwerkstoff", weld: "Schweißgut", haz: "WEZ" },
  lateral: "Laterale Breitung",
  heatAnalysis: "Schmelzanalyse",
  productAnalysis: "Stückanalyse",
  analysis: "Art der Analyse",
};

const FRENCH: Words = {
  heat: "N° de coulée",
  certificate: "Certificat n°",
  order: "Commande n°",
  grade: "Nuance",
  chemistry: "Composition chimique",
  tensile: "Essai de traction",
  impact: "Essai de résilience KV",
  temperature: "Température d'essai",
  zone: "Emplacement",
  specimen: "Éprouvette",
  average: "Moyenne",
  min: "mini",
  max: "maxi",
  actual: "Résultat",
  element: "Élément",
  strengths: {
    Rm: "Résistance à la traction",
    "Rp0.2": "Limite d'élasticité 0,2 %",
    "Rp1.0": "Limite d'élasticité 1,0 %",
  },
  elongations: { A: "Allongement A5", A50: "Allongement A50" },
  zones: { base: "Métal de base", weld: "Zone fondue", haz: "ZAT" },
  lateral: "Expansion latérale",
  heatAnalysis: "Analyse de coulée",
  productAnalysis: "Analyse sur produit",
  analysis: "Type d'analyse",
};

const ITALIAN: Words = {
  heat: "Colata n.",
  certificate: "Certificato n.",
  order: "Ordine n.",
  grade: "Acciaio",
  chemistry: "Composizione chimica",
  tensile: "Prova di trazione",
  impact: "Prova di resilienza KV",
  temperature: "Temperatura di prova",
  zone: "Posizione intaglio",
  specimen: "Provetta",
  average: "Media",
  min: "minimo",
  max: "massimo",
  actual: "Valore",
  element: "Elemento",
  strengths: { Rm: "Carico di rottura", "Rp0.2": "Snervamento 0,2 %", "Rp1.0": "Snervamento 1,0 %" },
  elongations: { A: "Allungamento A5", A50: "Allungamento A50" },
  zones: { base: "Metallo base", weld: "Zona fusa", haz: "Zona termicamente alterata" },
  lateral: "Espansione laterale",
  heatAnalysis: "Analisi di colata",
  productAnalysis: "Analisi di prodotto",
  analysis: "Tipo di analisi",
};

const SPANISH: Words = {
  heat: "Nº de colada",
  certificate: "Certificado nº",
  order: "Pedido nº",
  grade: "Calidad",
  chemistry: "Composición química",
  tensile: "Ensayo de tracción",
  impact: "Ensayo de impacto Charpy KV",
  temperature: "Temperatura de ensayo",
  zone: "Posición de la entalla",
  specimen: "Probeta",
  average: "Promedio",
  min: "mínimo",
  max: "máximo",
  actual: "Obtenido",
  element: "Elemento",
  strengths: { Rm: "Resistencia a la tracción", "Rp0.2": "Límite elástico 0,2 %", "Rp1.0": "Límite elástico 1,0 %" },
  elongations: { A: "Alargamiento A5", A50: "Alargamiento A50" },
  zones: { base: "Metal base", weld: "Metal de soldadura", haz: "ZAC" },
  lateral: "Expansión lateral",
  heatAnalysis: "Análisis de colada",
  productAnalysis: "Análisis de producto",
  analysis: "Tipo de análisis",
};

export const STYLES: readonly Style[] = [
  { language: "en", comma: false, stress: "MPa", hasRp1: true, gauges: ["A", "A50"], words: ENGLISH },
  { language: "en", comma: false, stress: "ksi", hasRp1: false, gauges: ["A50"], words: ENGLISH },
  {
    language: "en",
    comma: false,
    stress: "N/mm²",
    hasRp1: false,
    gauges: ["A", "A50"],
    words: { ...ENGLISH, heat: "Cast No.", strengths: SYMBOLS },
  },
  {
    language: "en",
    comma: false,
    stress: "kgf/mm²",
    hasRp1: false,
    gauges: ["A50"],
    words: { ...ENGLISH, heat: "Charge No.", strengths: { ...SYMBOLS, Rm: "T.S.", "Rp0.2": "Y.S. 0.2 %" } },
  },
  { language: "de", comma: true, stress: "MPa", hasRp1: true, gauges: ["A", "A50"], words: GERMAN },
  {
    language: "de",
    comma: true,
    stress: "N/mm²",
    hasRp1: true,
    gauges: ["A"],
    words: { ...GERMAN, heat: "Schmelze", strengths: { Rm: "Rm", "Rp0.2": "Rp0,2", "Rp1.0": "Rp1,0" } },
  },
  { language: "fr", comma: true, stress: "MPa", hasRp1: false, gauges: ["A"], words: FRENCH },
  { language: "it", comma: true, stress: "N/mm²", hasRp1: true, gauges: ["A", "A50"], words: ITALIAN },
  { language: "es", comma: true, stress: "MPa", hasRp1: false, gauges: ["A", "A50"], words: SPANISH },
];

export function print(value: string, style: Style): string {
  return style.comma ? value.replace(".", ",") : value;
}

const MPA_PER: Readonly<Record<Style["stress"], number>> = { MPa: 1, "N/mm²": 1, ksi: 6.894757, "kgf/mm²": 9.80665 };
export const UNIT_NAMES: Readonly<Record<Style["stress"], string>> = {
  MPa: "MPa",
  "N/mm²": "N/mm2",
  ksi: "ksi",
  "kgf/mm²": "kgf/mm2",
};

/** A strength in the style's unit, with the places that mills print. */
export function stressText(mpa: number, style: Style): string {
  return MPA_PER[style.stress] === 1 ? String(mpa) : (mpa / MPA_PER[style.stress]).toFixed(1);
}
