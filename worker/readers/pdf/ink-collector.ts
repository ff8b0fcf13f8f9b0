import { boundsOf, type GraphicsState, isUpright, PLAIN_FONT } from "./graphics-state.js";
import { type Bounds, createPaintOrder, holdsMiddle, overlapOf, type Surface } from "./paint-order.js";
import type { Stroke, TracedPath } from "./trace-path.js";

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
  /** What is to be seen. */
  readonly glyphs: readonly Glyph[];
  readonly strokes: readonly Stroke[];
  /** Share of the page that its largest picture covers. */
  readonly pictureShare: number;
  /** Characters that something was painted over, as when a value is changed afterwards. */
  readonly overpainted: readonly Glyph[];
  /** Characters that nobody sees for any reason, those painted over among them. */
  readonly unseenGlyphs: number;
}

interface PaintedGlyph {
  readonly glyph: Glyph;
  readonly bounds: Bounds;
  readonly colour: string | undefined;
}

const STROKED_TEXT = 1;
const INVISIBLE_TEXT = [3, 7];
/** Points. What is smaller is no writing for people. */
const LEAST_SIZE = 1.5;
/** A share from which on a layer of paint lets nothing through, and below which it shows nothing. */
const OPAQUE = 0.9;
const TRANSPARENT = 0.1;
/** Points: a line this thick may be the bar on which a title stands. */
const BAR = 4;

/** Takes what is drawn on a page of this size (in points), in the order of drawing, and tells in the end what of it is to be seen. */
export function createInkCollector({ width, height }: { readonly width: number; readonly height: number }) {
  const painted: PaintedGlyph[] = [];
  const strokes: Stroke[] = [];
  const order = createPaintOrder(height);
  let pictureShare = 0;
  let unseenGlyphs = 0;

  return {
    drawShading(state: GraphicsState): void {
      paint(state, { bounds: state.clip, ...UNKNOWN });
    },

    /** A picture of one colour. */
    drawSolidPicture(state: GraphicsState): void {
      paint(state, { bounds: pictureBounds(state), ...surfaceOfFill(state, isUpright(state.ctm)) });
    },

    /** Whole: not a stencil, which lets most of what is below it show. */
    drawPicture(state: GraphicsState, { isWhole }: { readonly isWhole: boolean }): void {
      const [a, b, c, d] = state.ctm;
      pictureShare = Math.max(pictureShare, Math.abs(a * d - b * c) / (width * height));
      const { isOpaque } = surfaceOfFill(state, isWhole && !state.hasMask && isUpright(state.ctm));
      paint(state, { bounds: pictureBounds(state), colour: undefined, isOpaque });
    },

    drawPath(
      state: GraphicsState,
      { strokes: lines, areas }: TracedPath,
      { isStroked, isFilled }: { readonly isStroked: boolean; readonly isFilled: boolean },
    ): void {
      if (isStroked || isFilled) strokes.push(...lines);
      // An outline inside another one is a hole, or none: the two rules of filling and the turn of the outlines decide.
      const isSimple = areas.length === 1;
      if (isFilled)
        for (const { bounds, isBox } of areas) paint(state, { bounds, ...surfaceOfFill(state, isBox && isSimple) });
      if (isStroked) paintBars(state, lines);
    },

    /** `bounds`: where its ink lies. `isShown`: it is not part of a hidden layer or of a mask. */
    drawGlyph(
      state: GraphicsState,
      glyph: Glyph,
      { bounds, isShown }: { readonly bounds: Bounds; readonly isShown: boolean },
    ): void {
      const { renderingMode, font, clip } = state;
      const isStroked = renderingMode === STROKED_TEXT;
      const alpha = (isStroked ? state.strokeAlpha : state.fillAlpha) * state.groupAlpha;
      // The characters of Type 3 fonts are often drawn at full size and shown at a size of 1.
      const size = glyph.size * Math.max(1, font.unit / PLAIN_FONT.unit);
      const isDrawn = isShown && !INVISIBLE_TEXT.includes(renderingMode) && size >= LEAST_SIZE;
      if (!isDrawn || alpha < TRANSPARENT || !holdsMiddle(clip, bounds)) {
        if (glyph.text.trim() !== "") unseenGlyphs++;
      } else if (!font.vertical) {
        painted.push({ glyph, bounds, colour: isStroked ? state.stroke : state.fill });
      }
    },

    finish(): PageInk {
      const glyphs: Glyph[] = [];
      const overpainted: Glyph[] = [];
      painted.forEach(({ glyph, ...spot }, at) => {
        const look = glyph.text.trim() === "" ? "seen" : order.look(spot, at);
        if (look === "seen") glyphs.push(glyph);
        else unseenGlyphs++;
        if (look === "painted over") overpainted.push(glyph);
      });
      return { width, height, glyphs, strokes, pictureShare, overpainted, unseenGlyphs };
    },
  };

  function paint(state: GraphicsState, surface: Surface): void {
    order.paint({ ...surface, bounds: overlapOf(surface.bounds, state.clip) }, painted.length);
  }

  function paintBars(state: GraphicsState, lines: readonly Stroke[]): void {
    const [a, b] = state.ctm;
    const thickness = state.lineWidth * Math.hypot(a, b);
    if (thickness < BAR) return;
    for (const { fromX, fromY, toX, toY } of lines) {
      const [left, right] = [Math.min(fromX, toX) - thickness / 2, Math.max(fromX, toX) + thickness / 2];
      const [top, bottom] = [Math.min(fromY, toY) - thickness / 2, Math.max(fromY, toY) + thickness / 2];
      paint(state, { bounds: [left, top, right, bottom], ...UNKNOWN });
    }
  }
}

const UNKNOWN = { colour: undefined, isOpaque: false } as const;

/** What a fill is, if its outline is a box that stands upright; of others it is known only that something may be there. */
function surfaceOfFill(state: GraphicsState, isBox: boolean): Pick<Surface, "colour" | "isOpaque"> {
  const alpha = state.fillAlpha * state.groupAlpha;
  const isPlain = isBox && alpha >= OPAQUE && !state.isMixed && !state.isGroupMixed;
  return isPlain ? { colour: state.fill, isOpaque: state.fill !== undefined } : UNKNOWN;
}

function pictureBounds({ ctm }: GraphicsState): Bounds {
  return boundsOf(ctm, [0, 0, 1, 1]);
}
