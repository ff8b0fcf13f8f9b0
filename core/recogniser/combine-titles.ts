import { kindOf, type Quantity } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";
import { dimensionsFor } from "./expected-units.js";
import type { Field, Title } from "./title.js";

const DETAILS = [
  "power",
  "offset",
  "gauge",
  "notchAssumed",
  "striker",
  "strikerOrPiece",
  "statistic",
  "piece",
  "analysis",
  "zone",
  "location",
  "temperature",
  "orientation",
  "specimenWidth",
  "role",
  "retest",
  "group",
  "code",
  "doubtful",
  "misheard",
  "mark",
] as const satisfies readonly (keyof Title)[];

/** Fields whose columns hold names and numbers of things, which no element's content can stand among. */
const NAMING: ReadonlySet<Field> = new Set(["heat", "item", "test", "order", "certificate-number"]);

/** Puts the parts of one title together. Two quantities that don't agree leave the title not understood. */
export function combineTitles(parts: readonly Partial<Title>[], unknown: string): Title {
  const rest = [unknown];
  let quantity: Quantity | undefined;
  const isOfImpact = parts.some(({ group }) => group === "impact");
  for (const { quantity: said } of parts) {
    if (!said) continue;
    // "Resilienza Charpy V": the letter is the notch, not vanadium.
    const named: Quantity = said === "V" && isOfImpact ? "KV" : said;
    const agreed: Quantity | undefined = quantity ? agree(quantity, named) : named;
    if (!agreed) rest.push(`${quantity} ${named}`);
    quantity = agreed ?? quantity;
  }
  const zones = new Set(parts.flatMap((part) => part.zone ?? []));
  if (zones.size > 1) {
    // "HAZ, weld side": two zones are none.
    const unzoned = parts.map(({ zone: _zone, location: _location, ...part }) => part);
    return combineTitles(unzoned, `${unknown} ${[...zones].join(" ")}`.trim());
  }
  const field = parts.find((part) => part.field)?.field;
  // "Temp. C": the letter is the unit, not carbon.
  if (field === "temperature" && quantity === "C") {
    return finish({ ...details(parts), field, unit: "°C" }, rest);
  }
  // "N. saggio": the letter is the sign for number, not nitrogen.
  const isNaming = field !== undefined && NAMING.has(field);
  if (quantity === "N" && isNaming) quantity = undefined;
  // "Heat C": a column can't hold both the heat's name and its carbon.
  if (isNaming && quantity && (field === "heat" || kindOf(quantity) === "chemistry")) rest.push(`${field} ${quantity}`);
  // Elements have no numbered singles: "H-1" names a heat, not hydrogen.
  if (quantity && kindOf(quantity) === "chemistry" && parts.some((part) => part.piece)) rest.push("numbered");
  const unit = firstUnit(parts, quantity);
  // "HAZ FL+1" and "HAZ FL+5" are two places, though "HAZ" stands in both.
  const location = parts.flatMap((part) => part.location ?? []).join(" ");
  return finish(
    {
      ...details(parts),
      ...(location && { location }),
      ...(quantity && { quantity }),
      ...(field && !quantity && { field }),
      ...(unit && { unit }),
    },
    rest,
  );
}

/** Lays a lower header over the one above it: the lower one's word counts, the upper one fills in. */
export function layTitle(upper: Title, lower: Title): Title {
  const quantity =
    upper.quantity && lower.quantity
      ? (agree(upper.quantity, lower.quantity) ?? lower.quantity)
      : (lower.quantity ?? upper.quantity);
  const field = lower.field ?? (lower.quantity ? undefined : upper.field);
  // "Temperature" under a heading that speaks of KV is still the temperature.
  if (lower.field && lower.field !== "value" && !lower.quantity)
    return { ...contextOf(upper), ...withoutUndefined(lower) };
  const unit = firstUnit([lower, upper], quantity);
  const { unit: _upperUnit, field: _upperField, ...above } = upper;
  return {
    ...above,
    ...withoutUndefined(lower),
    ...(quantity && { quantity }),
    ...(unit && { unit }),
    ...(field && { field }),
    rest: `${upper.rest} ${lower.rest}`.trim(),
  };
}

/** What a heading gives to columns that are not measured quantities: nothing but where and how the tests were made. */
export function contextOf({
  zone,
  location,
  temperature,
  orientation,
  specimenWidth,
  analysis,
  group,
}: Title): Partial<Title> {
  return withoutUndefined({ zone, location, temperature, orientation, specimenWidth, analysis, group });
}

const GENERAL: Readonly<Partial<Record<Quantity, readonly Quantity[]>>> = {
  Yield: ["Rp0.2", "Rp1.0", "Rt0.5", "ReH", "ReL"],
  Elongation: ["A", "A4", "A11.3", "A50", "A80", "A200"],
  Hardness: ["HBW", "HRB", "HRC", "HV"],
  // "Impact energy" and "impact strength" are loose words: the symbol beside them decides.
  KV: ["KU", "KCV", "LE", "SFA"],
  KCV: ["KV"],
  // A on 5.65√S0 is the meaning of a bare A; "A 50 mm" says otherwise.
  A: ["A4", "A11.3", "A50", "A80", "A200"],
};

function agree(left: Quantity, right: Quantity): Quantity | undefined {
  if (left === right || GENERAL[right]?.includes(left)) return left;
  return GENERAL[left]?.includes(right) ? right : undefined;
}

function details(parts: readonly Partial<Title>[]): Partial<Title> {
  const merged: Record<string, unknown> = {};
  for (const name of DETAILS) {
    const value = parts.find((part) => part[name] !== undefined)?.[name];
    if (value !== undefined) merged[name] = value;
  }
  return merged;
}

/** The first unit that can measure the quantity: a group's "[MPa]" does not reach the elongation below it. */
function firstUnit(parts: readonly Partial<Title>[], quantity: Quantity | undefined): Unit | undefined {
  const units = parts.flatMap((part) => (part.unit ? [part.unit] : []));
  if (!quantity) return units[0];
  return units.find((unit) => dimensionsFor(quantity).includes(dimensionOf(unit)));
}

function finish(title: Partial<Title>, unknown: readonly string[]): Title {
  const isTemperature = title.unit !== undefined && dimensionOf(title.unit) === "temperature";
  // "T [°C]": a bare T has many meanings, but only one in degrees.
  const rest = isTemperature ? unknown.filter((word) => word.toLowerCase() !== "t") : unknown;
  return { ...resolveQuantity(title), rest: rest.join(" ").trim() };
}

/** Lets offset, gauge length and unit say which yield, elongation or impact value a loose word means. */
export function resolveQuantity<T extends Partial<Title>>(title: T): T {
  const { quantity, offset, gauge, unit, group } = title;
  if (!quantity && (!title.field || title.field === "value") && unit) {
    const dimension = dimensionOf(unit);
    // "Tensile ksi" beside "Yield ksi" is the tensile strength; "Impact ft-lbs" the energy.
    if (group === "tensile" && dimension === "stress") return { ...title, quantity: "Rm" };
    if (group === "impact" && dimension === "energy") return { ...title, quantity: "KV", notchAssumed: true };
    if (group === "impact" && dimension === "energy-per-area") return { ...title, quantity: "KCV" };
  }
  if (quantity === "Yield" && offset) return { ...title, quantity: offset === "0.2" ? "Rp0.2" : "Rp1.0" };
  if ((quantity === "Elongation" || quantity === "A") && gauge) return { ...title, quantity: gauge };
  if (quantity && kindOf(quantity) === "impact" && unit) {
    const dimension = dimensionOf(unit);
    if (quantity === "KV" && dimension === "energy-per-area") return { ...title, quantity: "KCV" };
  }
  return title;
}

function withoutUndefined<T extends object>(title: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(title).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]: Exclude<T[K], undefined>;
  };
}
