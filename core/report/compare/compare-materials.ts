import { CONFIDENCE_THRESHOLD } from "../../certificate/certificate.js";
import { compare, type Decimal, decimal, formatDecimal, toNumber } from "../../quantity/decimal.js";
import { type Measure, measureIn } from "../../quantity/measure.js";
import { type Quantity, reportUnit } from "../../quantity/quantity.js";
import { convert } from "../../quantity/unit.js";
import type { Requirement } from "../../requirement/requirement.js";
import type { ComparableHeat, ComparableReading } from "./comparable-heat.js";
import type { ComparedProperty, ComparedRow, Comparison, MaterialZone, TestedPoint } from "./comparison.js";
import { type RequiredAtService, requiredAtService } from "./required-at-service.js";
import { type ServiceValue, valueAtService } from "./value-at-service.js";
import { sayWinner } from "./winner.js";

interface ComparedQuantity {
  readonly quantity: Quantity;
  readonly title: string;
  readonly byZone: boolean;
}

/** What a cryogenic vessel is chosen by, in the order in which an engineer asks. */
const COMPARED: readonly ComparedQuantity[] = [
  { quantity: "Rp0.2", title: "proof strength Rp0.2", byZone: false },
  { quantity: "Rm", title: "tensile strength Rm", byZone: false },
  ...(["A", "A4", "A50", "A80", "Elongation"] as const).map((quantity) => ({
    quantity,
    title: quantity === "Elongation" ? "elongation, gauge length not stated" : `elongation ${quantity}`,
    byZone: false,
  })),
  { quantity: "Z", title: "reduction of area Z", byZone: false },
  { quantity: "toughness", title: "tension toughness", byZone: false },
  { quantity: "KV", title: "impact energy KV", byZone: true },
  { quantity: "LE", title: "lateral expansion LE", byZone: true },
];

const ZONES: readonly MaterialZone[] = ["base", "weld", "haz", "zone not stated"];

export function compareMaterials(
  heats: readonly ComparableHeat[],
  service: Measure,
  requirement: Requirement | null,
): Comparison {
  const serviceC = toNumber(measureIn(service, "°C")!);
  const properties = COMPARED.flatMap((compared) =>
    (compared.byZone ? ZONES : [undefined]).flatMap((zone) =>
      compareProperty(heats, compared, zone, serviceC, requirement),
    ),
  );
  return { comparison: 1, serviceC, requirement: requirement?.name ?? null, properties };
}

function compareProperty(
  heats: readonly ComparableHeat[],
  { quantity, title }: ComparedQuantity,
  zone: MaterialZone | undefined,
  serviceC: number,
  requirement: Requirement | null,
): ComparedProperty[] {
  const rows = heats.flatMap((heat) =>
    (zone ? [zone] : ZONES).flatMap((of) => compareHeat(heat, of, quantity, serviceC, requirement)),
  );
  if (rows.length === 0) return [];
  const unit = reportUnit(quantity);
  const where = zone === undefined ? "" : `, ${zone}`;
  const untested =
    zone === "base" ? heats.filter((heat) => heat.readings.every((reading) => reading.quantity !== quantity)) : [];
  const said = sayWinner(`${title}${where}`, unit, serviceC, rows);
  const names = untested.map((heat) => nameOf(heat, zone!)).join("; ");
  const winner = names === "" ? said : { ...said, message: `${said.message} Never tested for it: ${names}.` };
  return [{ quantity, title: `${title}${where}`, unit, rows, winner, ...(zone && { zone }) }];
}

function compareHeat(
  heat: ComparableHeat,
  zone: MaterialZone,
  quantity: Quantity,
  serviceC: number,
  requirement: Requirement | null,
): ComparedRow[] {
  const readings = heat.readings.filter((reading) => reading.quantity === quantity && zoneOf(reading) === zone);
  const notes = new Set<string>(heat.conditions.length > 1 ? ["more than one delivery condition stated"] : []);
  const points = pointsOf(readings, notes);
  if (points.length === 0) return [];
  const atService = valueAtService(points, serviceC);
  const required = requirement ? requiredAtService(requirement, quantity, zone) : {};
  const meets = meetsRequired(atService, required);
  return [
    {
      material: { name: nameOf(heat, zone), heat: heat.heat, zone },
      points,
      atService,
      ...(required.mean && { required: formatDecimal(required.mean) }),
      ...(required.single && { requiredSingle: formatDecimal(required.single) }),
      ...(meets !== undefined && { meets }),
      notes: [...notes],
    },
  ];
}

/** The mean against its minimum, and the least piece against that of each piece. */
function meetsRequired(atService: ServiceValue, required: RequiredAtService): boolean | undefined {
  if (!("value" in atService) || (!required.mean && !required.single)) return undefined;
  const least = atService.kind === "tested" ? atService.least : atService.value;
  const holds = (value: number, minimum: Decimal | undefined) => !minimum || compare(settled(value), minimum) >= 0;
  return holds(atService.value, required.mean) && holds(least, required.single);
}

/** Means and interpolated values carry binary dust; a limit is not decided by it. */
function settled(value: number): Decimal {
  return decimal(value.toFixed(6));
}

/** Certificates of plate and bar name no zone for tensile tests: those are of the base metal. An impact test may be of any zone. */
function zoneOf({ zone, quantity }: ComparableReading): MaterialZone {
  if (zone) return zone;
  return quantity === "KV" || quantity === "LE" ? "zone not stated" : "base";
}

/** "301 full hard, heat B3010, base". */
function nameOf({ heat, grades, conditions }: ComparableHeat, zone: MaterialZone): string {
  const metal = [grades.join("/"), conditions.join("/")].filter((part) => part !== "").join(" ");
  return [...(metal === "" ? [] : [metal]), `heat ${heat}`, zone].join(", ");
}

/** Tensile tests without a stated temperature are those of a mill certificate: room temperature, 10 to 35 °C (ISO 6892-1). */
const ROOM_C = 20;

function pointsOf(readings: readonly ComparableReading[], notes: Set<string>): TestedPoint[] {
  const trusted = readings.filter(({ confidence }) => confidence >= CONFIDENCE_THRESHOLD);
  if (trusted.length < readings.length) notes.add("doubted results left out");
  const singles = trusted.filter(({ statistic }) => statistic !== "average");
  return (singles.length > 0 ? singles : trusted).flatMap((reading) => {
    const value = convert(reading.value, reading.unit, reportUnit(reading.quantity));
    if (!value || reading.bound !== undefined) return [];
    const isImpact = reading.quantity === "KV" || reading.quantity === "LE";
    const celsius = reading.temperature && measureIn(reading.temperature, "°C");
    if (!celsius && isImpact) {
      notes.add("results without a test temperature left out");
      return [];
    }
    if (!celsius) notes.add("temperature not stated, taken as room temperature");
    const temperatureC = celsius ? toNumber(celsius) : ROOM_C;
    return [{ temperatureC, value: toNumber(value), exact: formatDecimal(value) }];
  });
}
