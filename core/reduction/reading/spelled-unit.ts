import { decimal, toNumber } from "../../quantity/decimal.js";
import { convert, type Dimension, type Unit } from "../../quantity/unit.js";

/** Dimensions of raw records, each with the unit that reduction computes in. Strain is a ratio. */
const BASE_UNITS = {
  force: "N",
  stress: "MPa",
  length: "mm",
  area: "mm2",
  time: "s",
  energy: "J",
  mass: "kg",
  angle: "°",
  temperature: "°C",
} as const satisfies Partial<Record<Dimension, Unit>>;
export type RecordDimension = keyof typeof BASE_UNITS | "strain" | "moment";

/** Factor to the base unit for each spelling that laboratories and machines use, lower case, without spaces and brackets. */
const SPELLINGS: Readonly<Record<RecordDimension, Readonly<Record<string, number>>>> = {
  force: {
    ...spelled("N", "n newton newtons"),
    ...spelled("kN", "kn kilonewton kilonewtons"),
    mn: 1e6,
    dan: 10,
    ...spelled("kgf", "kgf kp kg"),
    ...spelled("lbf", "lbf lb lbs pound pounds pound-force"),
    tf: 9806.65,
    ...spelled("kip", "kip kips klbf"),
  },
  stress: {
    ...spelled("MPa", "mpa n/mm2 n/qmm mn/m2 nmm-2 n*mm-2 n·mm-2"),
    ...spelled("GPa", "gpa kn/mm2"),
    ...spelled("kPa", "kpa"),
    ...spelled("Pa", "pa n/m2"),
    ...spelled("ksi", "ksi"),
    ...spelled("psi", "psi lbf/in2"),
    ...spelled("kgf/mm2", "kgf/mm2 kp/mm2 kg/mm2"),
  },
  length: {
    ...spelled("mm", "mm millimeter millimetre"),
    ...spelled("um", "um µm μm micron microns"),
    ...spelled("cm", "cm"),
    ...spelled("m", "m"),
    ...spelled("in", 'in inch inches " zoll pouce pouces pollice pollici pulgada pulgadas'),
    ...spelled("mil", "mil mils thou"),
  },
  area: { ...spelled("mm2", "mm2 qmm sqmm"), ...spelled("in2", "in2 in.2 sqin sq.in"), cm2: 100 },
  time: {
    ...spelled("s", "s sec secs second seconds sek sekunden secondes secondi segundos"),
    ms: 0.001,
    ...spelled("min", "min minutes minuten"),
    h: 3600,
  },
  energy: {
    ...spelled("J", "j joule joules n·m nm n*m"),
    ...spelled("ft.lbf", "ft.lbf ft.lb ft-lb ft-lbf ft·lbf ft·lb ftlb ftlbs ft-lbs ft*lbf"),
    ...spelled("kgf.m", "kgf.m kgfm kgf·m kpm kgf*m mkp"),
  },
  mass: { ...spelled("kg", "kg kilogram"), ...spelled("g", "g gram"), ...spelled("lb", "lb lbs") },
  angle: { ...spelled("°", "° deg degree degrees grad"), rad: 180 / Math.PI },
  temperature: { "°c": 1, c: 1, degc: 1, cel: 1, celsius: 1, gradc: 1 },
  strain: {
    "1": 1,
    "-": 1,
    "–": 1,
    "mm/mm": 1,
    "m/m": 1,
    "in/in": 1,
    "%": 0.01,
    percent: 0.01,
    pct: 0.01,
    prozent: 0.01,
    "‰": 0.001,
    "mm/m": 0.001,
    mε: 0.001,
    millistrain: 0.001,
    ...micro(),
  },
  moment: { n·m: 1, nm: 1, "n*m": 1, "n.m": 1, kgf·m: 9.80665, "kgf.m": 9.80665, kgfm: 9.80665, kpm: 9.80665 },
};

/** Factor to the base unit of a dimension, or undefined where the text is no spelling of one of its units. */
export function unitFactor(text: string, dimension: RecordDimension): number | undefined {
  const key = tidyUnit(text);
  const spellings = SPELLINGS[dimension];
  return Object.hasOwn(spellings, key) ? spellings[key] : undefined;
}

/** Is this a unit at all, whatever it measures? */
export function isSpelledUnit(text: string): boolean {
  const key = tidyUnit(text);
  return key !== "" && Object.values(SPELLINGS).some((spellings) => Object.hasOwn(spellings, key));
}

/** "(N/mm²)" and "[N/mm^2]" become "n/mm2". */
function tidyUnit(text: string): string {
  return text
    .trim()
    .replace(/^[([{]+|[)\]}]+$/g, "")
    .replace(/\s+/g, "")
    .replace(/\^/g, "")
    .replace(/²/g, "2")
    .replace(/⁻/g, "-")
    .replace(/\.$/, "")
    .toLowerCase();
}

function spelled(unit: Unit, spellings: string): Record<string, number> {
  const base = Object.values(BASE_UNITS).find((candidate) => convert(decimal("1"), unit, candidate) !== undefined)!;
  const factor = toNumber(convert(decimal("1"), unit, base)!);
  return Object.fromEntries(spellings.split(" ").map((spelling) => [spelling, factor]));
}

function micro(): Record<string, number> {
  return Object.fromEntries(
    ["µm/m", "μm/m", "um/m", "microstrain", "µε", "με", "ue", "µstrain", "ustrain"].map((key) => [key, 1e-6]),
  );
}
