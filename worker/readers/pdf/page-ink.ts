import type { PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import { apply, IDENTITY, type Matrix, multiply } from "./matrix.js";
import { loadPdfLibrary } from "./open-pdf.js";
import { type Stroke, tracePath } from "./trace-path.js";

/** One character as drawn; coordinates from the top left of the page as shown. */
export interface Glyph {
  readonly text: string;
  /** Start and end of its advance on the baseline. */
  readonly x: number;
  readonly y: number;
  readonly endX: number;
  readonly endY: number;
  readonly size: number;
  readonly bold: boolean;
}

export interface PageInk {
  readonly width: number;
  readonly height: number;
  readonly glyphs: Glyph[];
  readonly strokes: Stroke[];
  /** Share of the page that its largest picture covers. */
  readonly pictureShare: number;
  /** Characters that are there for search only; nobody sees them. */
  readonly unseenGlyphs: number;
}

interface TextState {
  ctm: Matrix;
  fontSize: number;
  font: Font;
  charSpacing: number;
  wordSpacing: number;
  scale: number;
  leading: number;
  rise: number;
  renderingMode: number;
}

interface Font {
  readonly unit: number;
  readonly bold: boolean;
  readonly vertical: boolean;
}

interface PdfGlyph {
  readonly unicode: string;
  readonly width: number;
  readonly isSpace: boolean;
}

const PLAIN_FONT: Font = { unit: 0.001, bold: false, vertical: false };
const INVISIBLE = 3;

/**
 * Everything drawn on a page, from its drawing operators: characters with exact places, ruling lines, pictures. The library's
 * own text extraction gives runs of text without the places of the words inside them, and no lines at all.
 */
export async function readPageInk(page: PDFPageProxy): Promise<PageInk> {
  const { OPS } = await loadPdfLibrary();
  const viewport = page.getViewport({ scale: 1 });
  const { fnArray, argsArray } = await page.getOperatorList();
  const base = viewport.transform as unknown as Matrix;
  const glyphs: Glyph[] = [];
  const strokes: Stroke[] = [];
  const fonts = new Map<string, Font>();
  const stack: TextState[] = [];
  let state: TextState = {
    ctm: base,
    fontSize: 0,
    font: PLAIN_FONT,
    charSpacing: 0,
    wordSpacing: 0,
    scale: 1,
    leading: 0,
    rise: 0,
    renderingMode: 0,
  };
  let line: Matrix = IDENTITY;
  let advance = 0;
  let pictureShare = 0;
  let unseenGlyphs = 0;

  fnArray.forEach((operator, index) => {
    const args = argsArray[index] as unknown[];
    switch (operator) {
      case OPS.save:
        stack.push({ ...state });
        break;
      case OPS.restore:
      case OPS.paintFormXObjectEnd:
      case OPS.endAnnotation:
        state = stack.pop() ?? state;
        break;
      case OPS.transform:
        state.ctm = multiply(state.ctm, args as unknown as Matrix);
        break;
      case OPS.paintFormXObjectBegin:
        stack.push({ ...state });
        if (args[0]) state.ctm = multiply(state.ctm, toMatrix(args[0]));
        break;
      case OPS.beginAnnotation:
        stack.push({ ...state });
        state.ctm = multiply(multiply(base, toMatrix(args[2])), toMatrix(args[3]));
        break;
      case OPS.beginText:
        line = IDENTITY;
        advance = 0;
        break;
      case OPS.setTextMatrix:
        line = toMatrix(args.length === 1 ? args[0] : args);
        advance = 0;
        break;
      case OPS.moveText:
        moveLine(args[0] as number, args[1] as number);
        break;
      case OPS.setLeadingMoveText:
        state.leading = -(args[1] as number);
        moveLine(args[0] as number, args[1] as number);
        break;
      case OPS.nextLine:
        moveLine(0, -state.leading);
        break;
      case OPS.setLeading:
        state.leading = args[0] as number;
        break;
      case OPS.setFont:
        state.font = fontOf(args[0] as string);
        state.fontSize = args[1] as number;
        break;
      case OPS.setCharSpacing:
        state.charSpacing = args[0] as number;
        break;
      case OPS.setWordSpacing:
        state.wordSpacing = args[0] as number;
        break;
      case OPS.setHScale:
        state.scale = (args[0] as number) / 100;
        break;
      case OPS.setTextRise:
        state.rise = args[0] as number;
        break;
      case OPS.setTextRenderingMode:
        state.renderingMode = args[0] as number;
        break;
      case OPS.showText:
        showText(args[0] as (PdfGlyph | number | null)[]);
        break;
      case OPS.constructPath: {
        const isStroked = [OPS.stroke, OPS.closeStroke, OPS.fillStroke, OPS.eoFillStroke, OPS.closeFillStroke].includes(
          args[0] as number,
        );
        const isFilled = [OPS.fill, OPS.eoFill].includes(args[0] as number);
        const path = (args[1] as (Float32Array | null)[] | null)?.[0];
        if (path && (isStroked || isFilled)) strokes.push(...tracePath(path, state.ctm, isStroked));
        break;
      }
      case OPS.paintImageXObject:
      case OPS.paintInlineImageXObject:
      case OPS.paintImageMaskXObject: {
        const [a, b, c, d] = state.ctm;
        const share = Math.abs(a * d - b * c) / (viewport.width * viewport.height);
        pictureShare = Math.max(pictureShare, share);
        break;
      }
    }
  });
  return { width: viewport.width, height: viewport.height, glyphs, strokes, pictureShare, unseenGlyphs };

  function moveLine(x: number, y: number): void {
    line = multiply(line, [1, 0, 0, 1, x, y]);
    advance = 0;
  }

  function fontOf(name: string): Font {
    const known = fonts.get(name);
    if (known) return known;
    const font = describeFont(page.commonObjs.has(name) ? page.commonObjs.get(name) : undefined);
    fonts.set(name, font);
    return font;
  }

  function showText(items: (PdfGlyph | number | null)[]): void {
    const { font, fontSize, scale, rise } = state;
    const text = multiply(state.ctm, line);
    const size = Math.hypot(text[2], text[3]) * Math.abs(fontSize);
    for (const item of items) {
      if (item === null) continue;
      if (typeof item === "number") {
        advance -= (item / 1000) * fontSize * scale;
        continue;
      }
      const spacing = state.charSpacing + (item.isSpace ? state.wordSpacing : 0);
      const [x, y] = apply(text, advance, rise);
      advance += (item.width * font.unit * fontSize + spacing) * scale;
      // The box ends where the ink's own advance ends, without the spacing to the next character.
      const [endX, endY] = apply(text, advance - spacing * scale, rise);
      if (state.renderingMode === INVISIBLE) {
        unseenGlyphs++;
      } else if (!font.vertical) {
        glyphs.push({
          text: item.unicode,
          x,
          y,
          endX,
          endY,
          size,
          bold: font.bold,
        });
      }
    }
  }
}

function toMatrix(values: unknown): Matrix {
  // Spelt out: it runs for every piece of text, and Array.from is slow for what is no array.
  const { 0: a, 1: b, 2: c, 3: d, 4: e, 5: f } = values as Matrix;
  return [a, b, c, d, e, f];
}

function describeFont(font: Record<string, unknown> | undefined): Font {
  if (!font) return PLAIN_FONT;
  const { fontMatrix, bold, black, name, vertical } = font as {
    fontMatrix?: number[];
    bold?: boolean;
    black?: boolean;
    name?: string;
    vertical?: boolean;
  };
  return {
    unit: fontMatrix?.[0] ?? PLAIN_FONT.unit,
    bold: bold === true || black === true || /bold|black|heavy/i.test(name ?? ""),
    vertical: vertical === true,
  };
}
