import type { Conditions, Limit, Range } from "./grade.js";

/** A limit in one line, bounds first: "Rm min 485 MPa (70 ksi), form plate, thickness up to 75 mm". Two equal texts are one requirement. */
export function limitText(limit: Limit): string {
  const limited = limit.sumOf?.join("+") ?? limit.formula ?? limit.quantity;
  const analysis = limit.analysis === undefined ? [] : [`${limit.analysis} analysis`];
  return [`${limited} ${boundText(limit)}`, ...analysis, ...impactText(limit), ...conditionTexts(limit.when)].join(
    ", ",
  );
}

/** The bounds alone, with unit: "min 17.5 max 19.5 %", "min 5 x (C+N) max 0.70 %". */
export function boundText(limit: Limit): string {
  const { unit, inchPound } = limit;
  const partner = inchPound === undefined ? "" : ` (${sidesText(inchPound)} ${inchPound.unit})`;
  const parts = [
    computedText("min", limit.minFrom),
    computedText("max", limit.maxFrom),
    sidesText(limit),
    limit.reportOnly ? "to be reported" : "",
  ].filter((part) => part !== "");
  const trade = limit.tradeOff;
  const raised =
    trade === undefined
      ? ""
      : `, max raised by ${trade.raises} for each ${trade.step} ${trade.element} below ${trade.below}, up to ${trade.ceiling}`;
  return `${parts.join(" ")}${unit === "1" ? "" : ` ${unit}`}${partner}${raised}`;
}

function sidesText(side: { readonly min?: string | undefined; readonly max?: string | undefined }): string {
  return [side.min === undefined ? "" : `min ${side.min}`, side.max === undefined ? "" : `max ${side.max}`]
    .filter((part) => part !== "")
    .join(" ");
}

function computedText(side: "min" | "max", from: Limit["minFrom"]): string {
  if (from === undefined) return "";
  const plus = from.plus === undefined ? "" : `${from.plus} + `;
  return `${side} ${plus}${from.times} x (${from.of.join("+")})`;
}

function impactText({ impact }: Limit): string[] {
  if (impact === undefined) return [];
  const single = impact.single === undefined ? "" : `, single min ${impact.single}`;
  return [`at ${impact.temperature} °C by the rule ${impact.rule}${single}`];
}

function conditionTexts(when: Conditions | undefined): string[] {
  if (when === undefined) return [];
  return [
    when.form && `form ${when.form.join(" or ")}`,
    when.thickness && `thickness ${rangeText(when.thickness)} mm`,
    when.condition && `condition ${when.condition.join(" or ")}`,
    when.orientation,
    when.zone && `zone ${when.zone}`,
  ].filter((text) => text !== undefined);
}

function rangeText({ over, from, upTo, under }: Range): string {
  return [
    over === undefined ? "" : `over ${over}`,
    from === undefined ? "" : `from ${from}`,
    upTo === undefined ? "" : `up to ${upTo}`,
    under === undefined ? "" : `under ${under}`,
  ]
    .filter((part) => part !== "")
    .join(" ");
}
