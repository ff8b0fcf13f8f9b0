import type { Archive } from "./archive.js";
import { BUILT_IN_FORMATS, type NumberFormat, parseNumberFormat } from "./number-format.js";
import { readXmlPart } from "./package-parts.js";
import { isOn } from "./rich-text.js";

export interface CellStyle {
  readonly format: NumberFormat;
  readonly bold: boolean;
  readonly struck: boolean;
}

const STYLE_LIMIT = 100_000;

/** The styles that cells refer to by position, in `cellXfs`. */
export async function readStyles(archive: Archive, part: string | undefined): Promise<CellStyle[]> {
  if (part === undefined) return [];
  const codes = new Map(BUILT_IN_FORMATS);
  const fonts: { bold: boolean; struck: boolean }[] = [];
  const uses: { formatId: number; fontId: number }[] = [];
  const path: string[] = [];
  await readXmlPart(archive, part, {
    open(name, attributes) {
      const [, section, element] = path;
      path.push(name);
      if (uses.length + fonts.length > STYLE_LIMIT) return;
      if (section === "numFmts") codes.set(Number(attributes.numFmtId), attributes.formatCode ?? "General");
      else if (section === "fonts" && name === "font") fonts.push({ bold: false, struck: false });
      else if (section === "fonts" && element === "font" && name === "b") fonts.at(-1)!.bold = isOn(attributes.val);
      else if (section === "fonts" && element === "font" && name === "strike")
        fonts.at(-1)!.struck = isOn(attributes.val);
      else if (section === "cellXfs" && name === "xf") {
        uses.push({ formatId: Number(attributes.numFmtId ?? 0), fontId: Number(attributes.fontId ?? 0) });
      }
    },
    close() {
      path.pop();
    },
  });
  const formats = new Map<number, NumberFormat>();
  return uses.map(({ formatId, fontId }) => {
    const format = formats.get(formatId) ?? parseNumberFormat(codes.get(formatId) ?? "General");
    formats.set(formatId, format);
    return { format, bold: fonts[fontId]?.bold ?? false, struck: fonts[fontId]?.struck ?? false };
  });
}
