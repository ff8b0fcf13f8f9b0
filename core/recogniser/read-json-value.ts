import type { Reading } from "../certificate/certificate.js";
import { formatDecimal, parseDecimal } from "../quantity/decimal.js";
import { isPhysical } from "../quantity/physical-range.js";
import type { Quantity } from "../quantity/quantity.js";
import { dimensionOf, type Unit } from "../quantity/unit.js";
import { doubt } from "./context.js";
import { dimensionsFor } from "./expected-units.js";
import { evidenceAt, type JsonContext } from "./json-context.js";
import { tidy } from "./plain-text.js";
import type { Path } from "./prune-json.js";

export type JsonValue = string | number;

interface ValueToRead {
  readonly quantity: Quantity;
  /** Undefined: the unit stated is not known, or is none for this quantity. */
  readonly unit: Unit | undefined;
  readonly value: JsonValue;
  readonly heat: string;
  readonly path: Path;
  readonly attributes?: Partial<Reading>;
}

const OUT_OF_RANGE = 0.3;
const BOUNDS: Readonly<Record<string, NonNullable<Reading["bound"]>>> = {
  "<": "<",
  ">": ">",
  "<=": "<=",
  ">=": ">=",
  "≤": "<=",
  "≥": ">=",
};

export function readJsonValue(json: JsonContext, input: ValueToRead): Reading[] {
  const { quantity, unit, heat, path } = input;
  const printed = String(input.value);
  const place = { pointer: json.pointerTo(path) };
  const match = /^(<=|>=|<|>|≤|≥)?\s*(\S+)$/.exec(tidy(printed));
  const value = match && parseDecimal(match[2]!);
  if (!value || !unit || !dimensionsFor(quantity).includes(dimensionOf(unit))) {
    const why = value ? `has no unit that ${quantity} can have` : "is no decimal number";
    doubt(
      json.context,
      value ? "unit-mismatch" : "not-a-number",
      `${quantity} ${printed} ${why}; it was not read.`,
      place,
      { heat, quantity },
    );
    return [];
  }
  const isPlausible = isPhysical(quantity, value, unit);
  if (!isPlausible) {
    const message = `${quantity} ${formatDecimal(value)} ${unit} lies outside anything such metals do; check unit and digits.`;
    doubt(json.context, "value-improbable", message, place, { heat, quantity });
  }
  const bound = match[1] === undefined ? undefined : BOUNDS[match[1]];
  return [
    {
      quantity,
      printed,
      value,
      unit,
      ...(bound && { bound }),
      confidence: isPlausible ? 1 : OUT_OF_RANGE,
      evidence: evidenceAt(json, path),
      ...input.attributes,
    },
  ];
}
