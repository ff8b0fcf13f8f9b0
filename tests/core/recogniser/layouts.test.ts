import { describe, expect, it } from "vitest";
import { recognise } from "../../../core/recogniser/recognise.js";
import { drawDocument } from "./draw-table.js";
import { tell } from "./tell.js";

interface Layout {
  readonly name: string;
  readonly drawing: string;
  readonly readings: readonly string[];
  /** Codes of the doubts, in the order in which they are met. */
  readonly doubts: readonly string[];
}

/** Layouts and spellings as the trade has them, one oddity each; all papers are invented. */
const LAYOUTS: readonly Layout[] = [
  {
    name: "coded singles under an Italian heading",
    drawing: `
Resilienza KV2 a -196°C trasversale (J)
B07 Colata | C42 1 | 2 | 3 | C43 media
V-20931 | 101 | 98 | 110 | 103
`,
    readings: [
      "V-20931: KV 101 J -196 °C transverse r2",
      "V-20931: KV 98 J -196 °C transverse r2",
      "V-20931: KV 110 J -196 °C transverse r2",
      "V-20931: KV 103 J -196 °C transverse r2 average",
    ],
    doubts: [],
  },
  {
    name: "the document's own lines right above columns of heats",
    drawing: `
MILL TEST CERTIFICATE | EN 10204/3.1
 | Heat 1 | Heat 2 | Spec max
Heat no. | M1201 | M1202
C % | 0.022 | 0.019 | 0.030
Mn % | 1.5 | 1.61 | 2.00
`,
    readings: ["M1201: C 0.022 %", "M1201: Mn 1.5 %", "M1202: C 0.019 %", "M1202: Mn 1.61 %"],
    doubts: [],
  },
  {
    name: "results with titles of their own right under a table of elements",
    drawing: `
Heat | B4410
Element | C | Mn | Si
Ladle | .029 | 1.72 | .45
Product | .031 | 1.70 | .46
Tensile ksi | 84.0 | Yield 0.2% ksi | 36.1
Hardness | HRB 84
`,
    readings: [
      "B4410: C 0.029 % heat",
      "B4410: Mn 1.72 % heat",
      "B4410: Si 0.45 % heat",
      "B4410: C 0.031 % product",
      "B4410: Mn 1.70 % product",
      "B4410: Si 0.46 % product",
      "B4410: Rm 84.0 ksi",
      "B4410: HRB 84 HRB",
      "B4410: Rp0.2 36.1 ksi",
    ],
    doubts: [],
  },
  {
    name: "german one heat across",
    drawing: `
Zeugnis-Nr.: 4711/26 | | Datum: 12.03.2026
Schmelze: 7 123-4 | | Werkstoff: 1.4307
Chemische Zusammensetzung in Gew.-%
C | Si | Mn | P | S | Cr | Ni | N
0,021 | 0,45 | 1,52 | 0,031 | 0,001 | 18,12 | 8,05 | 0,071

Zugversuch DIN EN ISO 6892-1 bei RT
Probe | Rp0,2 MPa | Rp1,0 MPa | Rm MPa | A % | Z %
quer 1 | 289 | 330 | 612 | 55 | 70
quer 2 | 291 | 333 | 615 | 54 | 69

Kerbschlagbiegeversuch ISO-V bei -196 °C
Probe | 1 | 2 | 3 | Mittelwert
 | J | J | J | J
quer | 120 | 118 | 130 | 123
`,
    readings: [
      "7 123-4: C 0.021 %",
      "7 123-4: Si 0.45 %",
      "7 123-4: Mn 1.52 %",
      "7 123-4: P 0.031 %",
      "7 123-4: S 0.001 %",
      "7 123-4: Cr 18.12 %",
      "7 123-4: Ni 8.05 %",
      "7 123-4: N 0.071 %",
      "7 123-4: Rp0.2 289 MPa 23 °C transverse",
      "7 123-4: Rp1.0 330 MPa 23 °C transverse",
      "7 123-4: Rm 612 MPa 23 °C transverse",
      "7 123-4: A 55 % 23 °C transverse",
      "7 123-4: Z 70 % 23 °C transverse",
      "7 123-4: Rp0.2 291 MPa 23 °C transverse",
      "7 123-4: Rp1.0 333 MPa 23 °C transverse",
      "7 123-4: Rm 615 MPa 23 °C transverse",
      "7 123-4: A 54 % 23 °C transverse",
      "7 123-4: Z 69 % 23 °C transverse",
      "7 123-4: KV 120 J -196 °C transverse",
      "7 123-4: KV 118 J -196 °C transverse",
      "7 123-4: KV 130 J -196 °C transverse",
      "7 123-4: KV 123 J -196 °C transverse average",
    ],
    doubts: [],
  },
  {
    name: "multipliers per element",
    drawing: `
Heat | C | Si | Mn | P | S | Cr | Ni
 | x1000 | x100 | x100 | x1000 | x1000 | x100 | x100
A-1001 | 21 | 45 | 152 | 31 | 1 | 1812 | 805
`,
    readings: [
      "A-1001: C 0.021 %",
      "A-1001: Si 0.45 %",
      "A-1001: Mn 1.52 %",
      "A-1001: P 0.031 %",
      "A-1001: S 0.001 %",
      "A-1001: Cr 18.12 %",
      "A-1001: Ni 8.05 %",
    ],
    doubts: [],
  },
  {
    name: "exponent multipliers",
    drawing: `
Heat No | C %×10⁻³ | Si %×10⁻² | P ×10⁻³ | N ppm
A1001 | 21 | 45 | 31 | 710
`,
    readings: ["A1001: C 0.021 %", "A1001: Si 0.45 %", "A1001: P 0.031 %", "A1001: N 710 ppm"],
    doubts: [],
  },
  {
    name: "percent x 100",
    drawing: `
Cast No. | C % x 100 | Mn % x 100
K 1234 | 2 | 152
`,
    readings: ["K 1234: C 0.02 %", "K 1234: Mn 1.52 %"],
    doubts: [],
  },
  {
    name: "leading point",
    drawing: `
Heat | C | Mn
H1 | .0213 | 1.52
`,
    readings: ["H1: C 0.0213 %", "H1: Mn 1.52 %"],
    doubts: [],
  },
  {
    name: "limits around",
    drawing: `
Heat No. | C | Mn | P
Min. | - | - | -
Max. | 0.030 | 2.00 | 0.045
H4471 | 0.021 | 1.52 | 0.031
H4472 | 0.034 | 1.52 | 0.031
`,
    readings: [
      "H4471: C 0.021 %",
      "H4471: Mn 1.52 %",
      "H4471: P 0.031 %",
      "H4472: C 0.034 %",
      "H4472: Mn 1.52 %",
      "H4472: P 0.031 %",
    ],
    doubts: [],
  },
  {
    name: "standard row",
    drawing: `
Heat No. | C | Mn | Cr
ASTM A240 304L | ≤0.030 | ≤2.00 | 18.0-20.0
H4471 | 0.021 | 1.52 | 18.1
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %", "H4471: Cr 18.1 %"],
    doubts: [],
  },
  {
    name: "spec columns",
    drawing: `
Heat: H4471
Element | Spec. min | Spec. max | Actual
C % | | 0.030 | 0.021
Cr % | 18.0 | 20.0 | 18.12
`,
    readings: ["H4471: C 0.021 %", "H4471: Cr 18.12 %"],
    doubts: [],
  },
  {
    name: "heat and product",
    drawing: `
Heat No. | Analysis | C | Mn
H4471 | Ladle | 0.021 | 1.52
 | Product | 0.024 | 1.50
`,
    readings: [
      "H4471: C 0.021 % heat",
      "H4471: Mn 1.52 % heat",
      "H4471: C 0.024 % product",
      "H4471: Mn 1.50 % product",
    ],
    doubts: [],
  },
  {
    name: "heat and product german",
    drawing: `
Schmelze | Art der Analyse | C | Mn
H4471 | Schmelzanalyse | 0,021 | 1,52
H4471 | Stückanalyse | 0,024 | 1,50
`,
    readings: [
      "H4471: C 0.021 % heat",
      "H4471: Mn 1.52 % heat",
      "H4471: C 0.024 % product",
      "H4471: Mn 1.50 % product",
    ],
    doubts: [],
  },
  {
    name: "analysis as label column",
    drawing: `
Heat H4471
 | C % | Mn %
Heat analysis | 0.021 | 1.52
Check analysis | 0.024 | 1.50
`,
    readings: [
      "H4471: C 0.021 % heat",
      "H4471: Mn 1.52 % heat",
      "H4471: C 0.024 % product",
      "H4471: Mn 1.50 % product",
    ],
    doubts: [],
  },
  {
    name: "two tests per heat merged",
    drawing: `
Heat No. | Specimen | Rm MPa | ReH MPa | A80 %
H4471 | T1 | 612 | 289 | 55
^ | T2 | 615 | 290 | 54
`,
    readings: [
      "H4471: Rm 612 MPa",
      "H4471: ReH 289 MPa",
      "H4471: A80 55 %",
      "H4471: Rm 615 MPa",
      "H4471: ReH 290 MPa",
      "H4471: A80 54 %",
    ],
    doubts: [],
  },
  {
    name: "ksi",
    drawing: `
Heat # | Y.S. (ksi) | T.S. (ksi) | El. % in 2" | R of A % | Hardness
H4471 | 42.5 | 88.2 | 55 | 70 | 85 HRB
`,
    readings: ["H4471: Yield 42.5 ksi", "H4471: Rm 88.2 ksi", "H4471: A50 55 %", "H4471: Z 70 %", "H4471: HRB 85 HRB"],
    doubts: [],
  },
  {
    name: "psi thousands",
    drawing: `
Heat | Yield psi | Tensile psi | Elongation 8 in %
H4471 | 42,500 | 88,200 | 55.5
`,
    readings: ["H4471: Yield 42500 psi", "H4471: Rm 88200 psi", "H4471: A200 55.5 %"],
    doubts: [],
  },
  {
    name: "kgf",
    drawing: `
Heat | YP kgf/mm² | TS kgf/mm² | EL %
H4471 | 29.5 | 62.4 | 55
`,
    readings: ["H4471: Yield 29.5 kgf/mm2", "H4471: Rm 62.4 kgf/mm2", "H4471: Elongation 55 %"],
    doubts: [],
  },
  {
    name: "yield sub header",
    drawing: `
Heat | Yield strength [MPa] | < | Tensile | Elongation
^ | 0.2 % | 1.0 % | MPa | A5 %
H4471 | 289 | 330 | 612 | 55
`,
    readings: ["H4471: Rp0.2 289 MPa", "H4471: Rp1.0 330 MPa", "H4471: Rm 612 MPa", "H4471: A 55 %"],
    doubts: [],
  },
  {
    name: "impact with fahrenheit ftlbf mils",
    drawing: `
Heat | Test Temp °F | Impact ft-lbs | < | < | < | Lat. Exp. mils | < | < | Shear % | < | <
^ | ^ | 1 | 2 | 3 | Avg | 1 | 2 | 3 | 1 | 2 | 3
H4471 | -320 | 60 | 62 | 71 | 64 | 35 | 31 | 28 | 60 | 60 | 70
`,
    readings: [
      "H4471: KV 60 ft.lbf -320 °F",
      "H4471: KV 62 ft.lbf -320 °F",
      "H4471: KV 71 ft.lbf -320 °F",
      "H4471: KV 64 ft.lbf -320 °F average",
      "H4471: LE 35 mil -320 °F",
      "H4471: LE 31 mil -320 °F",
      "H4471: LE 28 mil -320 °F",
      "H4471: SFA 60 % -320 °F",
      "H4471: SFA 60 % -320 °F",
      "H4471: SFA 70 % -320 °F",
    ],
    doubts: [],
  },
  {
    name: "one cell triple",
    drawing: `
Heat | Temp | KV (J)
H4471 | -196°C | 98/102/95
`,
    readings: ["H4471: KV 98 J -196 °C", "H4471: KV 102 J -196 °C", "H4471: KV 95 J -196 °C"],
    doubts: [],
  },
  {
    name: "KV1 KV2 KV3",
    drawing: `
Heat | T °C | KV1 | KV2 | KV3 | KVm
H4471 | -196 | 98 | 102 | 95 | 98
`,
    readings: [
      "H4471: KV 98 J -196 °C ?",
      "H4471: KV 102 J -196 °C ?",
      "H4471: KV 95 J -196 °C ?",
      "H4471: KV 98 J -196 °C average ?",
    ],
    doubts: ["unit-missing", "unit-missing", "unit-missing", "unit-missing"],
  },
  {
    name: "KCV",
    drawing: `
Coulée | Température | KCV J/cm² | < | <
^ | °C | 1 | 2 | 3
C4471 | -196 | 120 | 125 | 130
`,
    readings: ["C4471: KCV 120 J/cm2 -196 °C", "C4471: KCV 125 J/cm2 -196 °C", "C4471: KCV 130 J/cm2 -196 °C"],
    doubts: [],
  },
  {
    name: "french",
    drawing: `
N° de coulée | C | Mn | Limite d'élasticité 0,2% (MPa) | Résistance à la traction (MPa) | Allongement A5 (%)
C4471 | 0,021 | 1,52 | 289 | 612 | 55
`,
    readings: ["C4471: C 0.021 %", "C4471: Mn 1.52 %", "C4471: Rp0.2 289 MPa", "C4471: Rm 612 MPa", "C4471: A 55 %"],
    doubts: [],
  },
  {
    name: "italian",
    drawing: `
Colata n. | C | Mn | Carico di snervamento 0,2 % [N/mm2] | Carico di rottura [N/mm2] | Allungamento A50 [%]
C4471 | 0,021 | 1,52 | 289 | 612 | 55
`,
    readings: [
      "C4471: C 0.021 %",
      "C4471: Mn 1.52 %",
      "C4471: Rp0.2 289 N/mm2",
      "C4471: Rm 612 N/mm2",
      "C4471: A50 55 %",
    ],
    doubts: [],
  },
  {
    name: "spanish",
    drawing: `
Nº colada | C | Mn | Límite elástico 0,2 % (MPa) | Resistencia a la tracción (MPa) | Alargamiento (%)
C4471 | 0,021 | 1,52 | 289 | 612 | 55
`,
    readings: [
      "C4471: C 0.021 %",
      "C4471: Mn 1.52 %",
      "C4471: Rp0.2 289 MPa",
      "C4471: Rm 612 MPa",
      "C4471: Elongation 55 %",
    ],
    doubts: [],
  },
  {
    name: "en 10168 codes",
    drawing: `
B07 | C71 | C72 | C11 | C12 | C13
Heat No. | C | Mn | Rp0.2 MPa | Rm MPa | A %
H1234 | 0.021 | 1.52 | 289 | 612 | 55
`,
    readings: ["H1234: C 0.021 %", "H1234: Mn 1.52 %", "H1234: Rp0.2 289 MPa", "H1234: Rm 612 MPa", "H1234: A 55 %"],
    doubts: [],
  },
  {
    name: "codes glued",
    drawing: `
B07 Schmelze/Heat | C71 C % | C72 Si % | C11 Rp0,2 N/mm² | C12 Rm N/mm² | C13 A5 %
H1234 | 0,021 | 0,45 | 289 | 612 | 55
`,
    readings: [
      "H1234: C 0.021 %",
      "H1234: Si 0.45 %",
      "H1234: Rp0.2 289 N/mm2",
      "H1234: Rm 612 N/mm2",
      "H1234: A 55 %",
    ],
    doubts: [],
  },
  {
    name: "heats in columns",
    drawing: `
Heat No. | H4471 | H4472 | H4473
C % | 0.021 | 0.034 | 0.019
Rm MPa | 612 | 602 | 608
`,
    readings: [
      "H4471: C 0.021 %",
      "H4471: Rm 612 MPa",
      "H4472: C 0.034 %",
      "H4472: Rm 602 MPa",
      "H4473: C 0.019 %",
      "H4473: Rm 608 MPa",
    ],
    doubts: [],
  },
  {
    name: "block per heat",
    drawing: `
Heat No.: H4471
C % | Mn %
0.021 | 1.52
Heat No.: H4472
C % | Mn %
0.034 | 1.50
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %", "H4472: C 0.034 %", "H4472: Mn 1.50 %"],
    doubts: [],
  },
  {
    name: "long",
    drawing: `
Heat | Property | Value | Unit
H4471 | C | 0.021 | %
H4471 | Rm | 612 | MPa
H4471 | KV | 88 | J
H4472 | C | 0.034 | %
`,
    readings: ["H4471: C 0.021 %", "H4471: Rm 612 MPa", "H4471: KV 88 J", "H4472: C 0.034 %"],
    doubts: [],
  },
  {
    name: "ambiguous",
    drawing: `
Heat | C % | Rm MPa
H4471 | 0,021 | 1,234
`,
    readings: ["H4471: C 0.021 %", "H4471: Rm 1.234 MPa ?"],
    doubts: ["value-improbable"],
  },
  {
    name: "ambiguous 2",
    drawing: `
Heat | Rm MPa | ReH MPa
H4471 | 1,234 | 1,100
`,
    readings: [],
    doubts: ["number-ambiguous", "number-ambiguous"],
  },
  {
    name: "letter",
    drawing: `
Heat | C % | Si %
H4471 | 0.O21 | l.45
`,
    readings: [],
    doubts: ["not-a-number", "not-a-number"],
  },
  {
    name: "unknown column",
    drawing: `
Heat | C % | Foo | Mn %
H4471 | 0.021 | 12 | 1.5
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.5 %"],
    doubts: ["column-unknown"],
  },
  {
    name: "improbable",
    drawing: `
Heat | Rm MPa | Rp0.2 MPa
H4471 | 52 | 29
`,
    readings: ["H4471: Rm 52 MPa ?", "H4471: Rp0.2 29 MPa ?"],
    doubts: ["value-improbable", "value-improbable"],
  },
  {
    name: "two line header units above",
    drawing: `
Heat No. | Chemical analysis (%) | < | < | Mechanical properties | < | <
 | C | Mn | Si | YS (0.2%) | UTS | EL (50mm)
 | | | | MPa | MPa | %
H4471 | 0.021 | 1.52 | 0.45 | 289 | 612 | 55
`,
    readings: [
      "H4471: C 0.021 %",
      "H4471: Mn 1.52 %",
      "H4471: Si 0.45 %",
      "H4471: Rp0.2 289 MPa",
      "H4471: Rm 612 MPa",
      "H4471: A50 55 %",
    ],
    doubts: [],
  },
  {
    name: "min max actual under elements",
    drawing: `
Heat No. | C | < | < | Mn | < | <
^ | min | max | actual | min | max | actual
H4471 | | 0.030 | 0.021 | | 2.00 | 1.52
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %"],
    doubts: [],
  },
  {
    name: "min max rows with range",
    drawing: `
Heat No. | C % | Cr % | Ni %
Requirement | max 0.030 | 18.0 - 20.0 | 8.0 - 12.0
H4471 | 0.021 | 18.1 | 8.1
`,
    readings: ["H4471: C 0.021 %", "H4471: Cr 18.1 %", "H4471: Ni 8.1 %"],
    doubts: [],
  },
  {
    name: "limits unlabelled row under header",
    drawing: `
Heat No. | C % | Cr % | Ni %
 | 0.030 | 18.0-20.0 | 8.0-12.0
H4471 | 0.021 | 18.1 | 8.1
`,
    readings: ["H4471: C 0.021 %", "H4471: Cr 18.1 %", "H4471: Ni 8.1 %"],
    doubts: [],
  },
  {
    name: "element down with limit columns",
    drawing: `
Heat number: H 4471
 | C | Mn | P | S
max. | 0,030 | 2,00 | 0,045 | 0,015
Ist | 0,021 | 1,52 | 0,031 | 0,001
`,
    readings: ["H 4471: C 0.021 %", "H 4471: Mn 1.52 %", "H 4471: P 0.031 %", "H 4471: S 0.001 %"],
    doubts: [],
  },
  {
    name: "Soll Ist rows",
    drawing: `
Schmelze-Nr. 4471A
Element | Soll min. | Soll max. | Ist
C | | 0,030 | 0,021
N | | 0,10 | 0,07
`,
    readings: ["4471A: C 0.021 %", "4471A: N 0.07 %"],
    doubts: [],
  },
  {
    name: "hardness three values",
    drawing: `
Heat | HBW 1 | HBW 2 | HBW 3 | Average
H4471 | 170 | 171 | 173 | 171
`,
    readings: ["H4471: HBW 170 HBW", "H4471: HBW 171 HBW", "H4471: HBW 173 HBW", "H4471: HBW 171 HBW average"],
    doubts: [],
  },
  {
    name: "hardness unstated",
    drawing: `
Heat | Rm MPa | Hardness
H4471 | 612 | 180
`,
    readings: ["H4471: Rm 612 MPa", "H4471: Hardness 180 1"],
    doubts: [],
  },
  {
    name: "hv10 series",
    drawing: `
Heat | Zone | HV10
H4471 | weld | 180
H4471 | HAZ | 190
`,
    readings: ["H4471: HV 180 HV weld", "H4471: HV 190 HV haz"],
    doubts: [],
  },
  {
    name: "impact with groups zones as row headings",
    drawing: `
Heat: H4471
Charpy V-notch test at -196 °C, specimen 10x10x55, J
 | 1 | 2 | 3 | Average
Weld metal | 71 | 64 | 68 | 68
HAZ FL+1 | 84 | 38 | 61 | 61
Base metal | 132 | 127 | 139 | 133
`,
    readings: [
      "H4471: KV 71 J weld -196 °C w10 mm",
      "H4471: KV 64 J weld -196 °C w10 mm",
      "H4471: KV 68 J weld -196 °C w10 mm",
      "H4471: KV 68 J weld -196 °C w10 mm average",
      "H4471: KV 84 J haz -196 °C w10 mm",
      "H4471: KV 38 J haz -196 °C w10 mm",
      "H4471: KV 61 J haz -196 °C w10 mm",
      "H4471: KV 61 J haz -196 °C w10 mm average",
      "H4471: KV 132 J base -196 °C w10 mm",
      "H4471: KV 127 J base -196 °C w10 mm",
      "H4471: KV 139 J base -196 °C w10 mm",
      "H4471: KV 133 J base -196 °C w10 mm average",
    ],
    doubts: [],
  },
  {
    name: "impact rows zone subheading",
    drawing: `
Heat No. | Specimen | KV J
Weld metal
H4471 | W1 | 71
H4471 | W2 | 64
HAZ
H4471 | H1 | 84
H4471 | H2 | 38
`,
    readings: ["H4471: KV 71 J weld", "H4471: KV 64 J weld", "H4471: KV 84 J haz", "H4471: KV 38 J haz"],
    doubts: [],
  },
  {
    name: "temps as columns",
    drawing: `
Heat | KV J at -20 °C | KV J at -196 °C
H4471 | 200 | 120
`,
    readings: ["H4471: KV 200 J -20 °C", "H4471: KV 120 J -196 °C"],
    doubts: [],
  },
  {
    name: "sub-size and dir",
    drawing: `
Heat | Dir. | Test piece | T [K] | KV8 (J)
H4471 | L | 10 x 5 | 77 | 44
H4471 | T | 10x5x55 | 77 | 40
`,
    readings: ["H4471: KV 44 J 77 K longitudinal w5 mm r8", "H4471: KV 40 J 77 K transverse w5 mm r8"],
    doubts: [],
  },
  {
    name: "items map",
    drawing: `
Item | Heat | Thickness mm | Weight kg
1 | H4471 | 12 | 5600
2 | H4472 | 14 | 5400

Item | Rm MPa | A %
1 | 612 | 55
2 | 608 | 54
`,
    readings: ["H4471: Rm 612 MPa", "H4471: A 55 %", "H4472: Rm 608 MPa", "H4472: A 54 %"],
    doubts: [],
  },
  {
    name: "footer under table",
    drawing: `
Heat | C % | Mn %
H4471 | 0.021 | 1.52
Total weight: | 5600
Remarks | ok
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %"],
    doubts: ["heat-unreadable"],
  },
  {
    name: "footer weight number only",
    drawing: `
Heat | C % | Mn %
H4471 | 0.021 | 1.52

Total | 5600 | kg
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %"],
    doubts: ["heat-unreadable"],
  },
  {
    name: "two heats in header",
    drawing: `
Heats: H4471, H4472
C % | Mn %
0.021 | 1.52
`,
    readings: ["heat not stated: C 0.021 % ?", "heat not stated: Mn 1.52 % ?"],
    doubts: ["heat-not-stated"],
  },
  {
    name: "steel making row",
    drawing: `
Heat | C | Mn | P | S | Remarks
 | % | % | % | % |
H4471 | 0.021 | 1.52 | 0.031 | 0.001 | vacuum degassed
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %", "H4471: P 0.031 %", "H4471: S 0.001 %"],
    doubts: [],
  },
  {
    name: "bal and dash",
    drawing: `
Heat | C % | Fe % | Ti % | Mo %
H4471 | 0.021 | Bal. | - | n.d.
`,
    readings: ["H4471: C 0.021 %"],
    doubts: [],
  },
  {
    name: "value with unit",
    drawing: `
Heat | C | Rm | A
H4471 | 0.021 % | 612 MPa | 55 %
`,
    readings: ["H4471: C 0.021 %", "H4471: Rm 612 MPa", "H4471: A 55 %"],
    doubts: [],
  },
  {
    name: "sum columns",
    drawing: `
Heat | C % | Nb+Ta % | Cr+Ni % | Al sol %
H4471 | 0.021 | 0.4 | 26.1 | 0.03
`,
    readings: ["H4471: C 0.021 %"],
    doubts: ["column-unknown", "column-unknown", "column-unknown"],
  },
  {
    name: "cev",
    drawing: `
Heat | C % | Mn % | CEV | Pcm | PREN
H4471 | 0.16 | 1.4 | 0.41 | 0.22 | 18.9
`,
    readings: ["H4471: C 0.16 %", "H4471: Mn 1.4 %", "H4471: CE 0.41 1", "H4471: Pcm 0.22 1", "H4471: PREN 18.9 1"],
    doubts: [],
  },
  {
    name: "carbon equivalent in capitals beside cerium",
    drawing: `
HEAT | C | MN | CE | Ce
H4471 | 0.16 | 1.4 | 0.41 | 0.02
`,
    readings: ["H4471: C 0.16 %", "H4471: Mn 1.4 %", "H4471: CE 0.41 1", "H4471: Ce 0.02 %"],
    doubts: [],
  },
  {
    name: "retest",
    drawing: `
Heat | Test | Rm MPa
H4471 | 1 | 512
H4471 | Retest | 530
`,
    readings: ["H4471: Rm 512 MPa", "H4471: Rm 530 MPa retest"],
    doubts: [],
  },
  {
    name: "ocr like merged number spaces",
    drawing: `
Heat | Rm MPa | Rp0.2 MPa
H4471 | 1 034 | 289
`,
    readings: ["H4471: Rm 1034 MPa", "H4471: Rp0.2 289 MPa"],
    doubts: [],
  },
  {
    name: "total",
    drawing: `
Heat No | C | Si | Mn | P | S | Ni | Cr | Mo | Cu | Al | Nb | V | Ti | N
 | x 10-3 | x 10-2 | x 10-2 | x 10-3 | x 10-3 | x 10-2 | x 10-2 | x 10-2 | x 10-2 | x 10-3 | x 10-3 | x 10-3 | x 10-3 | x 10-4
B7312 | 21 | 45 | 152 | 31 | 1 | 805 | 1812 | 12 | 22 | 3 | 2 | 45 | 3 | 710
`,
    readings: [
      "B7312: C 0.021 %",
      "B7312: Si 0.45 %",
      "B7312: Mn 1.52 %",
      "B7312: P 0.031 %",
      "B7312: S 0.001 %",
      "B7312: Ni 8.05 %",
      "B7312: Cr 18.12 %",
      "B7312: Mo 0.12 %",
      "B7312: Cu 0.22 %",
      "B7312: Al 0.003 %",
      "B7312: Nb 0.002 %",
      "B7312: V 0.045 %",
      "B7312: Ti 0.003 %",
      "B7312: N 0.0710 %",
    ],
    doubts: [],
  },
  {
    name: "two side by side sections same rows",
    drawing: `
Heat | C % | Mn % | | Heat | Rm MPa | A %
H4471 | 0.021 | 1.52 | | H4471 | 612 | 55
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %", "H4471: Rm 612 MPa", "H4471: A 55 %"],
    doubts: [],
  },
  {
    name: "header list with row of values",
    drawing: `
Order No. | Item | Heat No. | Grade | Dimensions
4500 | 10 | H4471 | 1.4307 | 12 x 2000 x 6000

C | Mn
% | %
0.021 | 1.52
`,
    readings: ["H4471: C 0.021 %", "H4471: Mn 1.52 %"],
    doubts: [],
  },
  {
    name: "lowercase",
    drawing: `
heat | c | si | mn | rm (mpa)
H4471 | 0.021 | 0.45 | 1.52 | 612
`,
    readings: ["H4471: C 0.021 %", "H4471: Si 0.45 %", "H4471: Mn 1.52 %", "H4471: Rm 612 MPa"],
    doubts: [],
  },
  {
    name: "upper CO",
    drawing: `
HEAT NO | C | SI | MN | CO | CU | AL | NB | UTS (MPA)
H4471 | 0.021 | 0.45 | 1.52 | 0.12 | 0.2 | 0.003 | 0.01 | 612
`,
    readings: [
      "H4471: C 0.021 %",
      "H4471: Si 0.45 %",
      "H4471: Mn 1.52 %",
      "H4471: Co 0.12 %",
      "H4471: Cu 0.2 %",
      "H4471: Al 0.003 %",
      "H4471: Nb 0.01 %",
      "H4471: Rm 612 MPa",
    ],
    doubts: [],
  },
  {
    name: "pieces named after their heats",
    drawing: `
Heat No. | C % | Mn %
H4471 | 0.021 | 1.52
H4472 | 0.034 | 1.60

Test piece | Rm MPa
H4471-1 | 612
H4472-2 | 598
H9999-1 | 601
`,
    readings: [
      "H4471: C 0.021 %",
      "H4471: Mn 1.52 %",
      "H4471: Rm 612 MPa",
      "H4472: C 0.034 %",
      "H4472: Mn 1.60 %",
      "H4472: Rm 598 MPa",
      "heat not stated: Rm 601 MPa ?",
    ],
    doubts: ["heat-not-stated"],
  },
  {
    name: "retest by a remark",
    drawing: `
Heat | Temp. °C | KV 1 J | KV 2 J | KV 3 J | Remarks
H4471 | -196 | 38 | 40 | 55 |
H4471 | -196 | 80 | 82 | 85 | Retest
H4472 | -196 | 80 | 82 | 85 | no retest
`,
    readings: [
      "H4471: KV 38 J -196 °C",
      "H4471: KV 40 J -196 °C",
      "H4471: KV 55 J -196 °C",
      "H4471: KV 80 J -196 °C retest",
      "H4471: KV 82 J -196 °C retest",
      "H4471: KV 85 J -196 °C retest",
      "H4472: KV 80 J -196 °C",
      "H4472: KV 82 J -196 °C",
      "H4472: KV 85 J -196 °C",
    ],
    doubts: [],
  },
  {
    name: "the V of a notch is no vanadium",
    drawing: `
Resilienza Charpy V
N. colata | °C | KV 1 J | KV 2 J | KV 3 J | Valore medio J
H4471 | -196 | 68 | 120 | 45 | 78
`,
    readings: [
      "H4471: KV 68 J -196 °C",
      "H4471: KV 120 J -196 °C",
      "H4471: KV 45 J -196 °C",
      "H4471: KV 78 J -196 °C average",
    ],
    doubts: [],
  },
  {
    name: "a set that begins again without a heading",
    drawing: `
Heat | KV 1 J | KV 2 J | KV 3 J | 1 | 2 | 3
H4471 | 68 | 120 | 45 | 24 | 36 | 55
`,
    readings: ["H4471: KV 68 J", "H4471: KV 120 J", "H4471: KV 45 J"],
    doubts: ["column-unknown", "column-unknown", "column-unknown"],
  },
  {
    name: "labels that do not stand on the first of their rows",
    drawing: `
Heat | Piece | KV J
 | 1 | 51
H4471 | 2 | 127
 | 3 | 121
 | 1 | 61
H4472 | 2 | 104
 | 3 | 63
`,
    readings: [
      "H4471: KV 127 J",
      "H4471: KV 121 J ?",
      "H4471: KV 61 J ?",
      "H4472: KV 104 J",
      "H4472: KV 63 J ?",
      "heat not stated: KV 51 J ?",
    ],
    doubts: ["labels-between-rows", "row-without-heat", "heat-not-stated"],
  },
];

describe("layouts", () => {
  it.each(LAYOUTS)("$name", ({ drawing, readings, doubts }) => {
    const certificate = recognise(drawDocument(drawing), 0);
    expect(tell(certificate)).toEqual(readings);
    expect(certificate.doubts.map(({ code }) => code)).toEqual(doubts);
  });
});

describe("sets of test pieces", () => {
  const setsOf = (drawing: string) => {
    const { heats } = recognise(drawDocument(drawing), 0);
    return heats.map(({ readings }) => new Set(readings.map(({ test }) => test)).size);
  };

  it("are told apart by heat and zone, though their pieces bear the same numbers", () => {
    const drawing = `
Heat | Zone | Piece | KV J
H4471 | base | 1 | 51
H4471 | base | 2 | 52
H4471 | weld | 1 | 61
H4471 | weld | 2 | 62
H4472 | base | 1 | 71
H4472 | base | 2 | 72
`;
    expect(setsOf(drawing)).toEqual([2, 1]);
  });

  it("keep the name that stands on all of their rows", () => {
    const drawing = `
Heat | Set | KV J
H4471 | A | 51
H4471 | A | 52
H4471 | B | 61
H4471 | B | 62
`;
    expect(setsOf(drawing)).toEqual([2]);
  });
});
