import { axes, label, plotIn } from "./axes.js";
import { lookOf, marker } from "./marks.js";
import { niceRange, place } from "./scale.js";
import { element, group, picture, type Svg } from "./svg.js";

export interface ImpactZone {
  /** "weld", "haz", "base". */
  readonly name: string;
  readonly singlesJ: readonly number[];
  readonly averageJ?: number;
  /** Required of the average, and of each piece. */
  readonly requiredAverageJ?: number;
  readonly requiredSingleJ?: number;
}

export interface ImpactPicture {
  readonly id: string;
  readonly subject: string;
  readonly zones: readonly ImpactZone[];
  /** "absorbed energy KV, J" where something else is drawn: lateral expansion, say. */
  readonly quantity?: string;
  readonly unit?: string;
}

const [WIDTH, HEIGHT] = [720, 400];
const BOX = { left: 80, top: 30, width: 610, height: 300 };

/** Every piece by zone, with the average as a bar and what is required as lines across the zone. */
export function drawImpactSingles(input: ImpactPicture): string {
  const { zones } = input;
  const unit = input.unit ?? "J";
  const values = zones.flatMap((zone) => [...zone.singlesJ, zone.averageJ ?? 0, zone.requiredAverageJ ?? 0]);
  const plot = plotIn(BOX, [0, Math.max(1, zones.length)], niceRange(values, 0));
  const step = BOX.width / Math.max(1, zones.length);
  const columns = zones.map((zone, index) => {
    const left = BOX.left + index * step;
    const yOf = (value: number) => place(plot.y, value);
    return group(
      ...zone.singlesJ.map((value, piece) => {
        const x = left + step * (0.32 + 0.11 * (piece - (zone.singlesJ.length - 1) / 2));
        return marker(x, yOf(value), lookOf(index), 5.5);
      }),
      zone.averageJ === undefined
        ? group()
        : bar(left + step * 0.14, left + step * 0.5, yOf(zone.averageJ), undefined, 2.4),
      rule(left, step, zone.requiredAverageJ, yOf, `average ≥ ${number(zone.requiredAverageJ)} ${unit}`, "10 4"),
      rule(left, step, zone.requiredSingleJ, yOf, `each ≥ ${number(zone.requiredSingleJ)} ${unit}`, "2 3"),
      label(left + step / 2, BOX.top + BOX.height + 20, zone.name, { "text-anchor": "middle", "font-weight": 600 }),
    );
  });
  return picture(
    {
      id: input.id,
      title: `Impact: ${input.subject}`,
      description: describe(input, unit),
      width: WIDTH,
      height: HEIGHT,
    },
    axes(plot, undefined, input.quantity ?? "absorbed energy KV, J"),
    ...columns,
    label(
      BOX.left,
      HEIGHT - 8,
      "marks: pieces; solid bar: average of the set; long dashes: required average; dots: required of each",
      { "font-size": 12 },
    ),
  );
}

function rule(
  left: number,
  step: number,
  value: number | undefined,
  yOf: (value: number) => number,
  text: string,
  dash: string,
): Svg {
  if (value === undefined) return group();
  const y = yOf(value);
  return group(
    bar(left + 3, left + step - 3, y, dash, 1.8),
    label(left + step - 6, y - 5, text, { "text-anchor": "end", "font-size": 11 }),
  );
}

function bar(x1: number, x2: number, y: number, dash: string | undefined, width: number): Svg {
  return element("line", { x1, x2, y1: y, y2: y, stroke: "#15181c", "stroke-width": width, "stroke-dasharray": dash });
}

function describe({ zones }: ImpactPicture, unit: string): string {
  const sentences = zones.map(({ name, singlesJ, averageJ, requiredAverageJ, requiredSingleJ }) => {
    const singles = `${name}: pieces ${singlesJ.map(number).join(", ")} ${unit}`;
    const average = averageJ === undefined ? "" : `, average ${number(averageJ)} ${unit}`;
    const required = [
      requiredAverageJ !== undefined && `average at least ${number(requiredAverageJ)}`,
      requiredSingleJ !== undefined && `each at least ${number(requiredSingleJ)}`,
    ].filter(Boolean);
    return `${singles}${average}${required.length > 0 ? `; required ${required.join(", ")} ${unit}` : ""}.`;
  });
  return sentences.length === 0 ? "No impact results." : sentences.join(" ");
}

function number(value: number | undefined): string {
  return value === undefined ? "" : String(Number(value.toFixed(2)));
}
