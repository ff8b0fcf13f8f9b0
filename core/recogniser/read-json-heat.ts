import type { GradeClaim, HeatRecord, Product, Reading, Statement } from "../certificate/certificate.js";
import { parseDecimal } from "../quantity/decimal.js";
import type { Measure } from "../quantity/measure.js";
import { type Quantity, reportUnit } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";
import { doubt } from "./context.js";
import { type JsonCertificate, unitFromText } from "./json-certificate.js";
import { type JsonContext, statementAt } from "./json-context.js";
import { tidy } from "./plain-text.js";
import type { Path } from "./prune-json.js";
import { type JsonValue, readJsonValue } from "./read-json-value.js";

type JsonHeat = JsonCertificate["heats"][number];
type Attributes = Partial<Reading>;

export function readJsonHeat(json: JsonContext, heat: JsonHeat, path: Path): HeatRecord {
  return {
    heat: statementAt(json, [...path, "heat"], heat.heat),
    readings: [
      ...readChemistry(json, heat, path),
      ...readTensile(json, heat, path),
      ...readImpact(json, heat, path),
      ...readHardness(json, heat, path),
      ...readIndices(json, heat, path),
    ],
    claims: (heat.grades ?? []).map((grade, index) => readClaim(json, grade, [...path, "grades", index])),
    product: readProduct(json, heat.product ?? {}, [...path, "product"]),
  };
}

function readClaim(
  json: JsonContext,
  claim: NonNullable<JsonHeat["grades"]>[number],
  path: Path,
): Statement<GradeClaim> {
  const { standard, edition, grade } = claim;
  const printed = [standard, edition, grade].filter((part) => part !== undefined).join(" ");
  return {
    ...statementAt(json, path, printed),
    value: {
      ...(standard !== undefined && { standard }),
      ...(edition !== undefined && { edition: String(edition) }),
      grade: String(grade),
    },
  };
}

function readProduct(json: JsonContext, product: NonNullable<JsonHeat["product"]>, path: Path): Product {
  const { form, thickness, condition } = product;
  const measure = readMeasure(json, thickness, "length", [...path, "thickness"]);
  return {
    ...(form !== undefined && { form: statementAt(json, [...path, "form"], form, form.trim().toLowerCase()) }),
    ...(measure && { thickness: { ...statementAt(json, [...path, "thickness"], thickness!), value: measure } }),
    ...(condition !== undefined && {
      condition: statementAt(json, [...path, "condition"], condition, condition.trim().toLowerCase()),
    }),
  };
}

function readChemistry(json: JsonContext, heat: JsonHeat, path: Path): Reading[] {
  return (heat.chemistry ?? []).flatMap(({ analysis, unit, zone, values }, index) => {
    const at = [...path, "chemistry", index];
    const attributes: Attributes = { ...(analysis && { analysis }), ...(zone && { zone }) };
    return readValues(json, heat, values, unitAt(json, unit, [...at, "unit"]), attributes, [...at, "values"]);
  });
}

function readTensile(json: JsonContext, heat: JsonHeat, path: Path): Reading[] {
  return (heat.tensile ?? []).flatMap(({ unit, values, ...piece }, index) => {
    const at = [...path, "tensile", index];
    const strength = unitAt(json, unit, [...at, "unit"]);
    return readValues(json, heat, values, strength, pieceAttributes(json, piece, at), [...at, "values"]);
  });
}

const SETS = { KV: "KV", KU: "KU", KCV: "KCV", lateralExpansion: "LE", shearFracture: "SFA" } as const satisfies Record<
  string,
  Quantity
>;

function readImpact(json: JsonContext, heat: JsonHeat, path: Path): Reading[] {
  return (heat.impact ?? []).flatMap((set, index) => {
    const at = [...path, "impact", index];
    const width = readMeasure(json, set.width, "length", [...at, "width"]);
    const attributes: Attributes = {
      ...pieceAttributes(json, set, at),
      ...(width && { specimenWidth: width }),
      ...(set.striker !== undefined && { striker: Number(set.striker) === 8 ? 8 : 2 }),
    };
    return Object.entries(SETS).flatMap(([name, quantity]) => {
      const values = set[name as keyof typeof SETS];
      if (!values) return [];
      const unit = unitAt(json, values.unit, [...at, name, "unit"]);
      return readSet(json, heat, quantity, unit, values, attributes, [...at, name]);
    });
  });
}

function readHardness(json: JsonContext, heat: JsonHeat, path: Path): Reading[] {
  return (heat.hardness ?? []).flatMap((set, index) => {
    const at = [...path, "hardness", index];
    return readSet(json, heat, set.scale, reportUnit(set.scale), set, pieceAttributes(json, set, at), at);
  });
}

function readIndices(json: JsonContext, heat: JsonHeat, path: Path): Reading[] {
  return Object.entries(heat.indices ?? {}).flatMap(([name, value]) => {
    const quantity = name as Quantity;
    return readJsonValue(json, {
      quantity,
      unit: reportUnit(quantity),
      value,
      heat: String(heat.heat),
      path: [...path, "indices", name],
    });
  });
}

function readSet(
  json: JsonContext,
  heat: JsonHeat,
  quantity: Quantity,
  unit: Unit | undefined,
  values: { readonly singles?: readonly JsonValue[] | undefined; readonly average?: JsonValue | undefined },
  attributes: Attributes,
  path: Path,
): Reading[] {
  const about = { quantity, unit, heat: String(heat.heat) };
  return [
    ...(values.singles ?? []).flatMap((value, index) =>
      readJsonValue(json, {
        ...about,
        value,
        path: [...path, "singles", index],
        attributes: { ...attributes, statistic: "single" },
      }),
    ),
    ...(values.average === undefined
      ? []
      : readJsonValue(json, {
          ...about,
          value: values.average,
          path: [...path, "average"],
          attributes: { ...attributes, statistic: "average" },
        })),
  ];
}

/** Values by symbol: each takes the unit stated beside them if it can have it, else its own customary one. */
function readValues(
  json: JsonContext,
  heat: JsonHeat,
  values: Partial<Record<string, JsonValue>>,
  unit: Unit | undefined,
  attributes: Attributes,
  path: Path,
): Reading[] {
  return Object.entries(values).flatMap(([name, value]) => {
    if (value === undefined) return [];
    const quantity = name as Quantity;
    const own = reportUnit(quantity);
    const fitting = unit && dimensionOf(unit) === dimensionOf(own) ? unit : isSharedUnit(quantity) ? undefined : own;
    return readJsonValue(json, {
      quantity,
      unit: fitting,
      value,
      heat: String(heat.heat),
      path: [...path, name],
      attributes,
    });
  });
}

/** Strengths and elements have no unit but the stated one. */
function isSharedUnit(quantity: Quantity): boolean {
  const dimension = dimensionOf(reportUnit(quantity));
  return (dimension === "stress" && quantity !== "E") || !NAMED_PER_CENT.has(quantity);
}

const NAMED_PER_CENT: ReadonlySet<Quantity> = new Set([
  "A",
  "A4",
  "A11.3",
  "A50",
  "A80",
  "A200",
  "Elongation",
  "Z",
  "Ag",
  "Agt",
  "E",
]);

function pieceAttributes(
  json: JsonContext,
  piece: {
    readonly test?: JsonValue | undefined;
    readonly zone?: Reading["zone"] | undefined;
    readonly orientation?: Reading["orientation"] | undefined;
    readonly temperature?: string | undefined;
    readonly retest?: boolean | undefined;
  },
  path: Path,
): Attributes {
  const temperature = readMeasure(json, piece.temperature, "temperature", [...path, "temperature"]);
  return {
    test: `${json.context.documentIndex}${json.pointerTo(path)}${piece.test === undefined ? "" : `: ${piece.test}`}`,
    ...(piece.zone && { zone: piece.zone }),
    ...(piece.orientation && { orientation: piece.orientation }),
    ...(temperature && { temperature }),
    ...(piece.retest && { retest: true }),
  };
}

function readMeasure(
  json: JsonContext,
  printed: string | undefined,
  dimension: string,
  path: Path,
): Measure | undefined {
  if (printed === undefined) return undefined;
  const match = /^([+-]?[\d.]+)\s*(.+)$/.exec(tidy(printed));
  const value = match && parseDecimal(match[1]!);
  const unit = match && unitFromText(match[2]!);
  if (value && unit && dimensionOf(unit) === dimension) return { value, unit };
  doubt(json.context, "unit-unknown", `${JSON.stringify(printed)} is no ${dimension} with a known unit.`, {
    pointer: json.pointerTo(path),
  });
  return undefined;
}

function unitAt(json: JsonContext, printed: string, path: Path): Unit | undefined {
  const unit = unitFromText(printed);
  if (!unit)
    doubt(json.context, "unit-unknown", `${JSON.stringify(printed)} is no known unit.`, {
      pointer: json.pointerTo(path),
    });
  return unit;
}
