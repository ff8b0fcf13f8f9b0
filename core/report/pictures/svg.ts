import { escapeHtml } from "../html/template.js";

/** A piece of SVG in which every text and attribute has been escaped. Only `element` and `text` make one. */
export interface Svg {
  readonly markup: string;
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

export function element(name: string, attributes: Attributes, ...children: readonly Svg[]): Svg {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? coordinate(value) : escapeHtml(value!)}"`)
    .join("");
  const inside = children.map(({ markup }) => markup).join("");
  return { markup: inside === "" ? `<${name}${written}/>` : `<${name}${written}>${inside}</${name}>` };
}

export function words(text: string): Svg {
  return { markup: escapeHtml(text) };
}

export function group(...children: readonly Svg[]): Svg {
  return { markup: children.map(({ markup }) => markup).join("") };
}

/** Hundredths of a unit: finer than any screen, and the same digits on every machine. */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new Error("a picture has no place for a value that is not finite");
  return String(Math.round(value * 100) / 100);
}

export interface PictureFrame {
  /** Makes the ids of title and description unique in a page of several pictures: letters, digits and hyphens. */
  readonly id: string;
  readonly title: string;
  /** What the picture says, for those who do not see it. */
  readonly description: string;
  readonly width: number;
  readonly height: number;
}

/** A whole picture. It carries its own font sizes and colours, for it is used inside pages and alone. */
export function picture(frame: PictureFrame, ...children: readonly Svg[]): string {
  const { id, title, description, width, height } = frame;
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      viewBox: `0 0 ${coordinate(width)} ${coordinate(height)}`,
      width: "100%",
      style: `max-width:${coordinate(width)}px;height:auto`,
      role: "img",
      "aria-labelledby": `${id}-title ${id}-description`,
      "font-family": "system-ui, -apple-system, 'Segoe UI', Roboto, 'DejaVu Sans', sans-serif",
      "font-size": 13,
      fill: "#15181c",
    },
    element("title", { id: `${id}-title` }, words(title)),
    element("desc", { id: `${id}-description` }, words(description)),
    element("rect", { x: 0, y: 0, width, height, fill: "#fff" }),
    ...children,
  ).markup;
}
