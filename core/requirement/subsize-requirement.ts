import { add, compare, type Decimal, decimal, formatDecimal, multiply, subtract } from "../quantity/decimal.js";
import { fraction, shareOf, trimPlaces } from "../quantity/fraction.js";
import { formatMeasure, type Measure, measureIn } from "../quantity/measure.js";
import { divideHalfEven } from "../quantity/round.js";
import { sameName } from "./impact-rules.js";
import { SAME_WIDTH, SUBSIZE_RULES, type SubsizeRule } from "./subsize-rules.js";

/** What the full 10 mm test piece must reach. */
export interface FullSizeRequirement {
  readonly average?: Measure;
  readonly single?: Measure;
}

export type SubsizeRequirement =
  | {
      readonly average?: Measure;
      readonly single?: Measure;
      /**
       * computed: a share of the printed value, to be compared as it stands, for it has no printed last place to round to.
       * printed: a value from the standard's own table, or the full-size one.
       */
      readonly kind: "computed" | "printed";
      /** The test must be colder than required by this difference of temperature. */
      readonly colderBy?: Measure;
      readonly reason?: undefined;
    }
  | { readonly kind?: undefined; readonly reason: string };

export function subsizeRule(name: string): SubsizeRule | undefined {
  return SUBSIZE_RULES.find((rule) => sameName(rule.name, name));
}

/** The requirement at the width that was tested, or the reason why the rule gives none. */
export function subsizeRequirement(rule: SubsizeRule, width: Measure, full: FullSizeRequirement): SubsizeRequirement {
  const widthMm = measureIn(width, "mm");
  if (!widthMm) return { reason: `${formatMeasure(width)} is not a width` };
  if (compare(widthMm, FULL_WIDTH) > 0 || widthMm.digits <= 0n) {
    return { reason: `a width of ${formatMeasure(width)} is outside 0 to 10 mm` };
  }
  if (compare(widthMm, FULL_WIDTH) === 0 && rule.kind !== "table") return { ...full, kind: "printed" };
  switch (rule.kind) {
    case "proportional":
      return proportional(rule, widthMm, full);
    case "shares":
      return byShares(rule, widthMm, full);
    case "table":
      return byTable(rule, widthMm, full);
    case "colder test":
      return byColderTest(rule, widthMm, full);
  }
}

const FULL_WIDTH = decimal("10");

type RuleOf<K extends SubsizeRule["kind"]> = Extract<SubsizeRule, { kind: K }>;

function proportional(rule: RuleOf<"proportional">, widthMm: Decimal, full: FullSizeRequirement): SubsizeRequirement {
  if (rule.minimumWidth && compare(widthMm, decimal(rule.minimumWidth)) < 0) {
    return { reason: `${rule.name} gives no value below a width of ${rule.minimumWidth} mm` };
  }
  const share = (value: Decimal) => trimPlaces(divideTen(multiply(value, widthMm)), 0);
  return { ...mapRequirement(full, share, share), kind: "computed" };
}

function divideTen(value: Decimal): Decimal {
  return { digits: value.digits, places: value.places + 1 };
}

function byShares(rule: RuleOf<"shares">, widthMm: Decimal, full: FullSizeRequirement): SubsizeRequirement {
  const span = findSpan(rule.rows, widthMm);
  if (!span) return { reason: outOfRows(rule.name, widthMm, rule.rows) };
  const [below, above] = span;
  if (below !== above && rule.between === "not given") return { reason: outOfRows(rule.name, widthMm, rule.rows) };

  const at = (share: (row: ShareRow) => string) => (value: Decimal) =>
    straightLine(widthMm, below, above, (row) => shareOf(fraction(share(row)), value));
  const average = at((row) => row.average);
  // A stated single shrinks like the average; where the rule has a single share of its own, it is one of the average.
  const own = below.single !== undefined && above.single !== undefined && full.average && !full.single;
  const single = own ? at((row) => row.single!)(full.average!.value) : undefined;
  return {
    ...mapRequirement(full, average, average),
    ...(single && { single: { value: single, unit: full.average!.unit } }),
    kind: "computed",
  };
}

function byTable(rule: RuleOf<"table">, widthMm: Decimal, full: FullSizeRequirement): SubsizeRequirement {
  const { average, single } = full;
  if (!average) return { reason: `the table of ${rule.name} needs a required average` };
  // Values convert, limits never: 27 J is not the 20 ft.lbf that the table is about.
  if (average.unit !== rule.unit) return { reason: `the table of ${rule.name} is in ${rule.unit}` };
  const column = rule.columns.find(({ full: known }) => compare(decimal(known.average), average.value) === 0);
  if (!column) return { reason: `the table of ${rule.name} has no column for ${formatMeasure(average)}` };
  if (single && !(column.full.single && compare(decimal(column.full.single), single.value) === 0)) {
    return { reason: `the table of ${rule.name} does not go with a single minimum of ${formatMeasure(single)}` };
  }
  const span = findSpan(column.rows, widthMm);
  if (!span) return { reason: outOfRows(rule.name, widthMm, column.rows) };
  const [below, above] = span;
  if (below !== above && rule.between === "not given") return { reason: outOfRows(rule.name, widthMm, column.rows) };

  const at = (value: (row: ShareRow) => string) => ({
    value: straightLine(widthMm, below, above, (row) => decimal(value(row))),
    unit: rule.unit,
  });
  return {
    average: at((row) => row.average),
    ...(below.single !== undefined && above.single !== undefined && { single: at((row) => row.single!) }),
    kind: below === above ? "printed" : "computed",
  };
}

function byColderTest(rule: RuleOf<"colder test">, widthMm: Decimal, full: FullSizeRequirement): SubsizeRequirement {
  const span = findSpan(rule.rows, widthMm);
  if (!span) return { reason: outOfRows(rule.name, widthMm, rule.rows) };
  // Between two rows the narrower one counts: it asks for more.
  return { ...full, kind: "printed", colderBy: { value: decimal(span[0].colderBy), unit: rule.unit } };
}

interface ShareRow {
  readonly width: string;
  readonly average: string;
  readonly single?: string;
}

/** The two neighbouring rows, twice the same where the width is a row's own; rows run from wide to narrow. */
function findSpan<Row extends { readonly width: string }>(
  rows: readonly Row[],
  widthMm: Decimal,
): readonly [below: Row, above: Row] | undefined {
  const width = sameWidth(widthMm);
  const below = rows.find((row) => compare(decimal(row.width), width) <= 0);
  const above = rows.findLast((row) => compare(decimal(row.width), width) >= 0);
  return below && above ? [below, above] : undefined;
}

function sameWidth(widthMm: Decimal): Decimal {
  const other = SAME_WIDTH.get(formatDecimal(trimPlaces(widthMm, 0)));
  return other ? decimal(other) : widthMm;
}

/** Straight line between two rows; the row's own value where both are the same. */
function straightLine(
  widthMm: Decimal,
  below: ShareRow,
  above: ShareRow,
  energyOf: (row: ShareRow) => Decimal,
): Decimal {
  if (below === above) return energyOf(below);
  const rise = subtract(energyOf(above), energyOf(below));
  const run = subtract(decimal(above.width), decimal(below.width));
  const step = divideHalfEven(multiply(rise, subtract(sameWidth(widthMm), decimal(below.width))), run, LINE_PLACES);
  return trimPlaces(add(energyOf(below), step), 0);
}

const LINE_PLACES = 12;

function mapRequirement(
  full: FullSizeRequirement,
  average: (value: Decimal) => Decimal,
  single: (value: Decimal) => Decimal,
): FullSizeRequirement {
  return {
    ...(full.average && { average: { ...full.average, value: average(full.average.value) } }),
    ...(full.single && { single: { ...full.single, value: single(full.single.value) } }),
  };
}

function outOfRows(name: string, widthMm: Decimal, rows: readonly { readonly width: string }[]): string {
  const widths = rows.map((row) => row.width).join(", ");
  return `${name} gives values at ${widths} mm, not at ${formatDecimal(widthMm)} mm`;
}
