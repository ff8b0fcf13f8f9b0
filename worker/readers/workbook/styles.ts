import { canBeTold } from "../colours.js";
import type { Archive } from "./archive.js";
import { BUILT_IN_FORMATS, type NumberFormat, parseNumberFormat } from "./number-format.js";
import { readXmlPart } from "./package-parts.js";
import { isOn } from "./rich-text.js";

export interface CellStyle {
  readonly format: NumberFormat;
  readonly bold: boolean;
  readonly struck: boolean;
  /** Written in the colour of its own ground. */
  readonly unseen: boolean;
}

interface FontStyle {
  bold: boolean;
  struck: boolean;
  colour: string | undefined;
}

const STYLE_LIMIT = 100_000;

/** The styles that cells refer to by position, in `cellXfs`. */
export async function readStyles(archive: Archive, part: string | undefined): Promise<CellStyle[]> {
  if (part === undefined) return [];
  const codes = new Map(BUILT_IN_FORMATS);
  const fonts: FontStyle[] = [];
  /** The colour of a whole fill; absent for patterns and gradients. */
  const fills: (string | undefined)[] = [];
  const uses: { formatId: number; fontId: number; fillId: number }[] = [];
  const path: string[] = [];
  let isSolid = false;
  await readXmlPart(archive, part, {
    open(name, attributes) {
      const [, section, element] = path;
      path.push(name);
      if (uses.length + fonts.length + fills.length > STYLE_LIMIT) return;
      if (section === "numFmts") codes.set(Number(attributes.numFmtId), attributes.formatCode ?? "General");
      else if (section === "fonts" && name === "font") fonts.push({ bold: false, struck: false, colour: BLACK });
      else if (section === "fonts" && element === "font" && name === "b") fonts.at(-1)!.bold = isOn(attributes.val);
      else if (section === "fonts" && element === "font" && name === "strike")
        fonts.at(-1)!.struck = isOn(attributes.val);
      else if (section === "fonts" && element === "font" && name === "color")
        fonts.at(-1)!.colour = colourOf(attributes);
      else if (section === "fills" && name === "fill") fills.push(undefined);
      else if (section === "fills" && name === "patternFill") {
        isSolid = attributes.patternType === "solid";
        if ((attributes.patternType ?? "none") === "none") fills[fills.length - 1] = WHITE;
      } else if (section === "fills" && name === "fgColor" && isSolid) fills[fills.length - 1] = colourOf(attributes);
      else if (section === "cellXfs" && name === "xf") {
        uses.push({
          formatId: Number(attributes.numFmtId ?? 0),
          fontId: Number(attributes.fontId ?? 0),
          fillId: Number(attributes.fillId ?? 0),
        });
      }
    },
    close() {
      path.pop();
    },
  });
  const formats = new Map<number, NumberFormat>();
  return uses.map(({ formatId, fontId, fillId }) => {
    const format = formats.get(formatId) ?? parseNumberFormat(codes.get(formatId) ?? "General");
    formats.set(formatId, format);
    const { bold = false, struck = false, colour } = fonts[fontId] ?? {};
    const ground = fills.length === 0 ? WHITE : fills[fillId];
    const unseen = colour !== undefined && ground !== undefined && !canBeTold(colour, ground);
    return { format, bold, struck, unseen };
  });
}

const WHITE = "#ffffff";
const BLACK = "#000000";
/** ECMA-376 part 1, 18.8 (recalled, not looked up): a theme's ground and text, and black and white of the old palette. */
const THEME = new Map([
  ["0", WHITE],
  ["1", BLACK],
]);
const INDEXED = new Map([
  ["0", BLACK],
  ["1", WHITE],
  ["8", BLACK],
  ["9", WHITE],
  ["64", BLACK],
  ["65", WHITE],
]);

/** "#rrggbb" where it is stated outright; a theme may have its own and a tint shifts them. */
function colourOf({ rgb, theme, indexed, auto, tint = "0" }: Record<string, string>): string | undefined {
  if (Number(tint) !== 0) return undefined;
  if (rgb !== undefined)
    return /^([0-9a-f]{2})?[0-9a-f]{6}$/i.test(rgb) ? `#${rgb.slice(-6).toLowerCase()}` : undefined;
  if (theme !== undefined) return THEME.get(theme);
  if (indexed !== undefined) return INDEXED.get(indexed);
  return auto === undefined ? undefined : BLACK;
}
