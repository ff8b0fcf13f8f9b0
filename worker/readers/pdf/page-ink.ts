import type { PDFPageProxy } from "pdfjs-dist/legacy/build/pdf.mjs";
import {
  boundsOf,
  clipTo,
  enterGroup,
  type Font,
  type GraphicsState,
  type Group,
  initialState,
  PLAIN_FONT,
  takeExtendedState,
} from "./graphics-state.js";
import { createInkCollector, type Glyph, type PageInk } from "./ink-collector.js";
import { apply, IDENTITY, type Matrix, multiply } from "./matrix.js";
import { loadPdfLibrary } from "./open-pdf.js";
import type { Bounds } from "./paint-order.js";
import { tracePath } from "./trace-path.js";

/** Whether the layer that a part of the page belongs to is shown. */
export interface Layers {
  isVisible(layer: unknown): boolean;
}

interface PdfGlyph {
  readonly unicode: string;
  readonly width: number;
  readonly isSpace: boolean;
}

/**
 * Everything drawn on a page, from its drawing operators: characters with exact places, ruling lines, pictures. The library's
 * own text extraction gives runs of text without the places of the words inside them, no lines at all, and writing that nobody sees.
 */
export async function readPageInk(page: PDFPageProxy, layers: Layers): Promise<PageInk> {
  const { OPS } = await loadPdfLibrary();
  const viewport = page.getViewport({ scale: 1 });
  const { fnArray, argsArray } = await page.getOperatorList();
  const base = viewport.transform as unknown as Matrix;
  const ink = createInkCollector(viewport);
  const fonts = new Map<string, Font>();
  const stack: GraphicsState[] = [];
  const content: boolean[] = [];
  let state = initialState(base);
  let line: Matrix = IDENTITY;
  let advance = 0;
  let clips = false;

  fnArray.forEach((operator, index) => {
    const args = argsArray[index] as unknown[];
    switch (operator) {
      case OPS.save:
        stack.push({ ...state });
        break;
      case OPS.restore:
      case OPS.paintFormXObjectEnd:
      case OPS.endGroup:
      case OPS.endAnnotation:
        state = stack.pop() ?? state;
        break;
      case OPS.transform:
        state.ctm = multiply(state.ctm, args as unknown as Matrix);
        break;
      case OPS.beginGroup:
        stack.push({ ...state });
        enterGroup(state, args[0] as Group);
        break;
      case OPS.paintFormXObjectBegin:
        stack.push({ ...state });
        if (args[0]) state.ctm = multiply(state.ctm, toMatrix(args[0]));
        if (args[1]) clipTo(state, boundsOf(state.ctm, args[1] as ArrayLike<number>));
        break;
      case OPS.beginAnnotation:
        stack.push({ ...state });
        state = initialState(multiply(multiply(base, toMatrix(args[2])), toMatrix(args[3])));
        break;
      case OPS.beginMarkedContent:
        content.push(true);
        break;
      case OPS.beginMarkedContentProps:
        content.push(args[0] !== "OC" || layers.isVisible(args[1]));
        break;
      case OPS.endMarkedContent:
        content.pop();
        break;
      case OPS.setGState: {
        const font = takeExtendedState(state, args[0] as [string, unknown][]);
        if (font) setFont(...font);
        break;
      }
      case OPS.setFillRGBColor:
        state.fill = args[0] as string;
        break;
      case OPS.setFillColorN:
      case OPS.setFillTransparent:
        state.fill = undefined;
        break;
      case OPS.setStrokeRGBColor:
        state.stroke = args[0] as string;
        break;
      case OPS.setStrokeColorN:
      case OPS.setStrokeTransparent:
        state.stroke = undefined;
        break;
      case OPS.setLineWidth:
        state.lineWidth = args[0] as number;
        break;
      case OPS.clip:
      case OPS.eoClip:
        clips = true;
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
        setFont(args[0] as string, args[1] as number);
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
      case OPS.constructPath:
        drawPath(args[0] as number, (args[1] as (Float32Array | null)[] | null)?.[0]);
        break;
      case OPS.shadingFill:
        if (isDrawn()) ink.drawShading(state);
        break;
      case OPS.paintSolidColorImageMask:
        if (isDrawn()) ink.drawSolidPicture(state);
        break;
      case OPS.paintImageXObject:
      case OPS.paintInlineImageXObject:
        if (isDrawn()) ink.drawPicture(state, { isWhole: true });
        break;
      case OPS.paintImageMaskXObject:
        if (isDrawn()) ink.drawPicture(state, { isWhole: false });
        break;
    }
  });

  return ink.finish();

  function setFont(name: string, size: number): void {
    state.font = fontOf(name);
    state.fontSize = size;
  }

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

  function isDrawn(): boolean {
    return !state.isMask && !content.includes(false);
  }

  function drawPath(operator: number, path: Float32Array | null | undefined): void {
    const wasClip = clips;
    clips = false;
    if (!path) return;
    const isStroked = STROKES.some((name) => OPS[name] === operator);
    const isFilled = FILLS.some((name) => OPS[name] === operator);
    if (!isStroked && !isFilled && !wasClip) return;
    const traced = tracePath(path, state.ctm, isStroked);
    if (isDrawn()) ink.drawPath(state, traced, { isStroked, isFilled });
    if (wasClip && traced.extent) clipTo(state, traced.extent);
  }

  function showText(items: (PdfGlyph | number | null)[]): void {
    const { font, fontSize, scale, rise } = state;
    const text = multiply(state.ctm, line);
    const size = Math.hypot(text[2], text[3]) * Math.abs(fontSize);
    const isShown = isDrawn();
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
      const glyph = { text: item.unicode, x, y, endX, endY, size, bold: font.bold };
      ink.drawGlyph(state, glyph, { isShown, bounds: inkBounds(glyph, text, fontSize) });
    }
  }
}

const STROKES = [
  "stroke",
  "closeStroke",
  "fillStroke",
  "eoFillStroke",
  "closeFillStroke",
  "closeEOFillStroke",
] as const;
const FILLS = ["fill", "eoFill", "fillStroke", "eoFillStroke", "closeFillStroke", "closeEOFillStroke"] as const;

/** Most of a character's ink lies within this share of its size above its baseline. */
const INK_HEIGHT = 0.6;

function inkBounds({ x, y, endX, endY }: Glyph, text: Matrix, fontSize: number): Bounds {
  const [up, over] = [text[2] * fontSize * INK_HEIGHT, text[3] * fontSize * INK_HEIGHT];
  return [
    Math.min(x, endX, x + up, endX + up),
    Math.min(y, endY, y + over, endY + over),
    Math.max(x, endX, x + up, endX + up),
    Math.max(y, endY, y + over, endY + over),
  ];
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
