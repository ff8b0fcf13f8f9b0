import { axes, label, type Plot, plotIn } from "./axes.js";
import { seriesLegend } from "./legend.js";
import { horizontalRule, line, lookOf, markers } from "./marks.js";
import { niceRange, place } from "./scale.js";
import { group, picture } from "./svg.js";
import { serviceMark } from "./transition-curve.js";

export interface PropertySeries {
  readonly name: string;
  /** Which marker and dash it has, so that a material looks the same in every picture of a page. */
  readonly look: number;
  readonly points: readonly { readonly temperatureC: number; readonly value: number }[];
}

export interface PropertyPicture {
  readonly id: string;
  /** "tensile strength Rm". */
  readonly property: string;
  readonly unit: string;
  readonly series: readonly PropertySeries[];
  readonly serviceC: number;
  /** What the project asks for at the service temperature. */
  readonly required?: number;
}

const WIDTH = 720;
const BOX = { left: 80, top: 30, width: 610, height: 300 };

/** One property of several materials against temperature; lines join means, and end where the tests end. */
export function drawPropertyAgainstTemperature(input: PropertyPicture): string {
  const { series, serviceC, required } = input;
  const points = series.flatMap((one) => one.points);
  const xRange = niceRange([...points.map(({ temperatureC }) => temperatureC), serviceC]);
  const plot = plotIn(
    BOX,
    xRange,
    niceRange([...points.map(({ value }) => value), ...(required === undefined ? [] : [required])], 0),
  );
  const legendRows = Math.ceil(series.reduce((sum, { name }) => sum + 66 + 7.2 * name.length, 0) / BOX.width);
  return picture(
    {
      id: input.id,
      title: `${input.property} against temperature`,
      description: describe(input),
      width: WIDTH,
      height: BOX.top + BOX.height + 70 + 20 * legendRows,
    },
    axes(plot, "temperature, °C", `${input.property}, ${input.unit}`),
    required === undefined ? group() : horizontalRule(plot, required, "10 4"),
    serviceMark(plot, serviceC),
    ...series.map((one) => {
      const means = meansByTemperature(one);
      const look = lookOf(one.look);
      return group(
        line(
          plot,
          means.map(([t]) => t),
          means.map(([, value]) => value),
          look,
        ),
        markers(
          plot,
          one.points.map(({ temperatureC, value }) => [temperatureC, value]),
          look,
        ),
      );
    }),
    // Last, so that no line of a material runs through it.
    required === undefined
      ? group()
      : label(plot.x.end - 6, requiredLabelAt(plot, required, series), `required ${required} ${input.unit}`, {
          "text-anchor": "end",
          "font-size": 12,
        }),
    seriesLegend(
      BOX.left,
      BOX.top + BOX.height + 64,
      BOX.width,
      series.map(({ name, look }) => ({ name, look: lookOf(look), lined: true })),
    ),
  );
}

/** Above its line, or below where the label would cover points of a material and has room. */
function requiredLabelAt(plot: Plot, required: number, series: readonly PropertySeries[]): number {
  const line = place(plot.y, required);
  const near = series
    .flatMap(({ points }) => points)
    .filter(({ temperatureC }) => place(plot.x, temperatureC) > plot.x.end - LABEL.width)
    .map(({ value }) => line - place(plot.y, value));
  const above = near.filter((height) => height >= 0 && height < LABEL.height).length;
  const below = near.filter((height) => height < 0 && height > -LABEL.height).length;
  return above > below && line + LABEL.height < plot.y.start ? line + 16 : line - 6;
}

const LABEL = { width: 130, height: 22 };

export function meansByTemperature({ points }: PropertySeries): (readonly [temperatureC: number, mean: number])[] {
  const groups = new Map<number, number[]>();
  for (const { temperatureC, value } of points) groups.set(temperatureC, [...(groups.get(temperatureC) ?? []), value]);
  return [...groups]
    .sort(([left], [right]) => left - right)
    .map(([temperatureC, values]) => [temperatureC, values.reduce((sum, value) => sum + value, 0) / values.length]);
}

function describe({ property, unit, series, serviceC, required }: PropertyPicture): string {
  const said = series.map((one) => {
    const means = meansByTemperature(one).map(([t, value]) => `${Number(value.toFixed(1))} ${unit} at ${t} °C`);
    return `${one.name}: ${means.length === 0 ? "no tests" : means.join(", ")}.`;
  });
  const wanted = required === undefined ? "" : ` Required: ${required} ${unit}.`;
  return `${property} of ${series.length} materials; the service temperature ${serviceC} °C is marked.${wanted} ${said.join(" ")}`;
}
