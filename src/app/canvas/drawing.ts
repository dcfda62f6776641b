import {
  Circle,
  FabricImage,
  FabricObject,
  FabricText,
  Group,
  Line,
  Path,
  Pattern,
  Rect,
  StaticCanvas,
  type TComplexPathData,
  util,
} from 'fabric';
import { applyAll, invert } from '../../geometry';
import type { AreaItem, Extent, Handle, Item, LineItem, SpotItem, StrokesItem, TextItem, XY } from './items';
import { placeTexts, type SizedText } from './labels';
import { hatchTile, STROKES, tokensOf } from './paint';

/** Zoom in screen pixels per unit of the sheet: from a whole log on a phone to single pixels of a photo. */
const LEAST_ZOOM = 0.01;
const MOST_ZOOM = 40;

/** Half the side of a handle, px. */
const HANDLE = 4.5;
/** Where handles crowd, only dots are drawn: zoom in to see them apart. */
const HANDLE_CROWDED = 1.75;
const CROWDED = 14;
/** The rim of a line, 1 being opaque. */
const RIM_STRENGTH = 0.6;
const HANDLE_CHOSEN = 8;
/** What lies this near to the sheet's edge is not in view, px. */
const EDGE = 4;

/**
 * The painted sheet: the only file that knows fabric. Lines, letters and handles keep their size on screen at any zoom, so
 * what fabric scales with the sheet is scaled back here.
 */
export class Drawing {
  private readonly canvas: StaticCanvas;
  private readonly handles = new Handles();
  private readonly painted = new Map<string, { item: Item; object: FabricObject }>();
  private colours: (token: string) => string;

  constructor(
    element: HTMLCanvasElement,
    private readonly host: HTMLElement,
    onPainted: () => void = () => {},
  ) {
    this.canvas = new StaticCanvas(element, { renderOnAddRemove: false, skipOffscreen: false });
    this.colours = tokensOf(host);
    this.canvas.add(this.handles);
    this.canvas.on('after:render', onPainted);
  }

  dispose(): void {
    void this.canvas.dispose();
  }

  /** Fits the canvas to its host; what was in the middle stays there. */
  resize(width: number, height: number): void {
    const dx = (width - this.canvas.width) / 2;
    const dy = (height - this.canvas.height) / 2;
    this.canvas.setDimensions({ width, height });
    this.panBy(dx, dy);
  }

  /** Paints the sheet anew in other colours, after light has turned to dark. */
  recolour(): void {
    this.colours = tokensOf(this.host);
    const items = [...this.painted.values()].map(({ item }) => item);
    this.painted.clear();
    this.show(items);
  }

  /** Shows these items and no others, in their order. */
  show(items: readonly Item[]): void {
    const objects = items.map((item) => {
      const known = this.painted.get(item.id);
      if (known?.item === item) return known.object;
      const object = this.paint(item);
      this.painted.set(item.id, { item, object });
      return object;
    });
    const shown = new Set(items.map(({ id }) => id));
    for (const id of [...this.painted.keys()]) if (!shown.has(id)) this.painted.delete(id);
    this.canvas.remove(...this.canvas.getObjects());
    this.canvas.add(...objects, this.handles);
    this.keepSizes();
  }

  showHandles(handles: readonly Handle[], chosen: string | null): void {
    const others = this.handles.list !== handles;
    this.handles.show(handles, chosen, this.colours('--chalk'), this.colours('--paper'));
    if (others) this.placeTexts(this.zoom);
    this.canvas.requestRenderAll();
  }

  /** Shows a part of the sheet as large as fits. */
  fit({ minX, minY, maxX, maxY }: Extent): void {
    const { width, height } = this.canvas;
    const zoom = clamp(Math.min(width / Math.max(maxX - minX, 1e-6), height / Math.max(maxY - minY, 1e-6)));
    const x = (width - zoom * (minX + maxX)) / 2;
    const y = (height - zoom * (minY + maxY)) / 2;
    this.canvas.setViewportTransform([zoom, 0, 0, zoom, x, y]);
    this.keepSizes();
  }

  /** Zooms by a factor about a point of the screen. */
  zoomBy(factor: number, [x, y]: XY = [this.canvas.width / 2, this.canvas.height / 2]): void {
    const [zoom, , , , e, f] = this.canvas.viewportTransform;
    const next = clamp(zoom * factor);
    const k = next / zoom;
    this.canvas.setViewportTransform([next, 0, 0, next, x - k * (x - e), y - k * (y - f)]);
    this.keepSizes();
  }

  panBy(dx: number, dy: number): void {
    const [a, b, c, d, e, f] = this.canvas.viewportTransform;
    this.canvas.setViewportTransform([a, b, c, d, e + dx, f + dy]);
    this.canvas.requestRenderAll();
  }

  /** Moves a place into the middle, unless it is in view. */
  reveal(at: XY): void {
    const { width, height } = this.canvas;
    const [x, y] = this.toScreen(at);
    if (x < EDGE || y < EDGE || x > width - EDGE || y > height - EDGE) this.panBy(width / 2 - x, height / 2 - y);
  }

  /** Screen pixels per unit of the sheet. */
  get zoom(): number {
    return this.canvas.viewportTransform[0];
  }

  toSheet([x, y]: XY): XY {
    const [zoom, , , , e, f] = this.canvas.viewportTransform;
    return [(x - e) / zoom, (y - f) / zoom];
  }

  toScreen([x, y]: XY): XY {
    const [zoom, , , , e, f] = this.canvas.viewportTransform;
    return [x * zoom + e, y * zoom + f];
  }

  /**
   * What lies about a point of the screen, seen larger, lines and letters in their own size.
   * @param side of what comes out, px of the screen
   */
  magnified([x, y]: XY, side: number, times: number): HTMLCanvasElement {
    const part = side / times;
    const retina = this.canvas.getRetinaScaling();
    this.setSizes(times * this.zoom);
    this.handles.detail = retina;
    const seen = this.canvas.toCanvasElement(times * retina, {
      left: x - part / 2,
      top: y - part / 2,
      width: part,
      height: part,
    });
    this.handles.detail = 1;
    this.setSizes(this.zoom);
    return seen;
  }

  /** The handle nearest to a point of the screen, within `reach` px; of several that crowd there, the chosen one. */
  handleNear(at: XY, reach: number): Handle | null {
    let best: Handle | null = null;
    let least = reach;
    for (const handle of this.handles.list) {
      const [x, y] = this.toScreen(handle.at);
      const away = Math.hypot(x - at[0], y - at[1]);
      // A chosen handle is taken wherever its own square is pressed.
      const d = handle.id === this.handles.chosen && away <= reach ? away - HANDLE_CHOSEN : away;
      if (d <= least) [best, least] = [handle, d];
    }
    return best;
  }

  private paint(item: Item): FabricObject {
    switch (item.kind) {
      case 'picture': {
        const image = new ClippedImage(item.image, { opacity: item.strength ?? 1, objectCaching: false });
        image.ring = item.clip ? applyAll(invert({ m: item.map }), item.clip) : null;
        // Fabric places an object by its middle, a map by its corner.
        const { width, height } = image;
        util.applyTransformToObject(image, [...item.map] as [number, number, number, number, number, number]);
        const [a, b, c, d, e, f] = item.map;
        image.set({ left: e + (a * width + c * height) / 2, top: f + (b * width + d * height) / 2 });
        return image;
      }
      case 'line':
      case 'strokes':
      case 'area':
        return this.paintLines(item);
      case 'text':
        return this.paintText(item);
      case 'spot':
        return this.paintSpot(item);
    }
  }

  private paintLines(item: LineItem | StrokesItem | AreaItem): FabricObject {
    const stroke = this.colours(STROKES[item.pen].token);
    const lines = item.kind === 'strokes' ? item.lines : [item.points, ...((item.kind === 'area' && item.holes) || [])];
    const closed = item.kind === 'area' || (item.kind === 'line' && (item.closed ?? false));
    const style = { stroke, fill: '', objectCaching: false, strokeLineJoin: 'round', fillRule: 'evenodd' } as const;
    const line = new RimmedPath(pathOf(lines, closed), style);
    line.rim = this.colours('--paper');
    if (item.kind === 'area' && item.hatch !== 'none') {
      const source = hatchTile(item.hatch, stroke, this.canvas.getRetinaScaling());
      line.set('fill', new Pattern({ source, repeat: 'repeat' }));
    }
    return line;
  }

  private paintText({ at: [left, top], text, pen, shape, turn = 0 }: TextItem): FabricObject {
    const colour = this.colours(STROKES[pen].token);
    const paper = this.colours('--paper');
    const boxed = shape === 'box';
    const letters = new FabricText(text, {
      fontFamily: this.colours('--serif'),
      fontSize: shape === 'bare' ? 16 : 13,
      fontWeight: 'bold',
      fill: boxed ? paper : colour,
      // A rim of paper keeps a bare figure legible on dark wood.
      ...(shape === 'bare' && { stroke: paper, strokeWidth: 4, paintFirst: 'stroke' as const }),
      objectCaching: false,
    });
    const ground =
      shape === 'ring'
        ? new Circle({ radius: 10, fill: paper, stroke: colour, strokeWidth: 1.25 })
        : new Rect({ width: letters.width + 9, height: 20, fill: colour, strokeWidth: 0 });
    const parts = shape === 'bare' ? [letters] : [ground, letters];
    for (const part of parts) part.set({ left: 0, top: 0 });
    return new Group(parts, { left, top, angle: turn, objectCaching: false });
  }

  private paintSpot({ at: [left, top], pen, text }: SpotItem): FabricObject {
    const stroke = this.colours(STROKES[pen].token);
    const line = (points: [number, number, number, number]) => new Line(points, { stroke, strokeWidth: 1.5 });
    const [reach, radius] = text ? [9, 5] : [5, 2];
    const ring = new Circle({ radius, left: 0, top: 0, fill: '', stroke, strokeWidth: 1.5 });
    const cross = [line([-reach, 0, reach, 0]), line([0, -reach, 0, reach])];
    const spot = new Group([ring, ...cross], { left, top, objectCaching: false });
    if (!text) return spot;
    const paper = this.colours('--paper');
    const letters = new FabricText(text, {
      left,
      top,
      fontFamily: this.colours('--serif'),
      fontSize: 14,
      fontWeight: 'bold',
      fill: stroke,
      stroke: paper,
      strokeWidth: 4,
      paintFirst: 'stroke',
      originX: 'left',
      originY: 'bottom',
    });
    spot.add(letters);
    letters.set({ left: 8, top: -4 });
    return spot;
  }

  /** Gives lines, hatches and letters their size on screen back after a zoom. */
  private keepSizes(): void {
    this.setSizes(this.zoom);
    this.canvas.requestRenderAll();
  }

  private setSizes(zoom: number): void {
    const retina = this.canvas.getRetinaScaling();
    for (const { item, object } of this.painted.values()) {
      if (item.kind === 'picture') continue;
      if (item.kind === 'text' || item.kind === 'spot') {
        object.set({ scaleX: 1 / zoom, scaleY: 1 / zoom });
        continue;
      }
      const { width, dash } = STROKES[item.pen];
      object.set({ strokeWidth: width / zoom, strokeDashArray: dash.length ? dash.map((d) => d / zoom) : null });
      if (object.fill instanceof Pattern)
        object.fill.patternTransform = [1 / (zoom * retina), 0, 0, 1 / (zoom * retina), 0, 0];
    }
    this.placeTexts(zoom);
  }

  /** Keeps texts that yield off each other and off the handles. */
  private placeTexts(zoom: number): void {
    const texts: SizedText[] = [];
    for (const { item, object } of this.painted.values())
      if (item.kind === 'text') texts.push({ item, width: object.width, height: object.height });
    if (!texts.some(({ item }) => item.yields !== undefined)) return;
    const handles = this.handles.list.map(({ at }) => at);
    const places = placeTexts(texts, zoom, handles, HANDLE);
    for (const { item } of texts) {
      const at = places.get(item.id);
      const object = this.painted.get(item.id)?.object;
      object?.set(at ? { visible: true, left: at[0], top: at[1] } : { visible: false });
    }
  }
}

/** Lines or rings as fabric's path commands. */
function pathOf(lines: readonly (readonly XY[])[], closed: boolean): TComplexPathData {
  return lines.flatMap((line): TComplexPathData => {
    const commands = line.map(([x, y], i): TComplexPathData[number] => [i === 0 ? 'M' : 'L', x, y]);
    return closed ? [...commands, ['Z']] : commands;
  });
}

/** A picture of which only what lies inside a ring is shown. Cut as it is painted, so that a ring may change at every frame. */
class ClippedImage extends FabricImage {
  ring: readonly XY[] | null = null;

  override _render(ctx: CanvasRenderingContext2D): void {
    ctx.save();
    if (this.ring) {
      ctx.beginPath();
      for (const [x, y] of this.ring) ctx.lineTo(x - this.width / 2, y - this.height / 2);
      ctx.closePath();
      ctx.clip();
    }
    super._render(ctx);
    ctx.restore();
  }
}

/** Lines with a thin rim of paper, so that ink is seen on dark wood as well as on paper. */
class RimmedPath extends Path {
  rim = '';

  override _renderStroke(ctx: CanvasRenderingContext2D): void {
    const { stroke, strokeWidth, strokeDashArray } = this;
    Object.assign(this, { stroke: this.rim, strokeWidth: 2 * strokeWidth, strokeDashArray: null });
    ctx.globalAlpha = RIM_STRENGTH;
    super._renderStroke(ctx);
    ctx.globalAlpha = 1;
    Object.assign(this, { stroke, strokeWidth, strokeDashArray });
    super._renderStroke(ctx);
  }
}

/** All handles as one object: five hundred points are five hundred small squares, not five hundred fabric objects. */
class Handles extends FabricObject {
  list: readonly Handle[] = [];
  /** Pixels of what is painted on to one of the screen, beyond the screen's own. */
  detail = 1;
  chosen: string | null = null;
  private spacing = Infinity;
  private ink = '';
  private paper = '';

  show(list: readonly Handle[], chosen: string | null, ink: string, paper: string): void {
    if (this.list !== list) this.spacing = medianSpacing(list);
    this.list = list;
    this.chosen = chosen;
    this.ink = ink;
    this.paper = paper;
  }

  override render(ctx: CanvasRenderingContext2D): void {
    const { canvas } = this;
    if (!canvas || this.list.length === 0) return;
    const [zoom, , , , e, f] = canvas.viewportTransform;
    const retina = canvas.getRetinaScaling();
    ctx.save();
    ctx.setTransform(retina, 0, 0, retina, 0, 0);
    ctx.strokeStyle = this.ink;
    ctx.fillStyle = this.paper;
    ctx.lineWidth = 1.5 * this.detail;
    const plain = zoom * this.spacing < CROWDED * this.detail ? HANDLE_CROWDED : HANDLE;
    // The chosen one lies over its neighbours.
    const last = this.list.filter(({ id }) => id === this.chosen);
    for (const { id, at } of [...this.list.filter(({ id }) => id !== this.chosen), ...last]) {
      const half = this.detail * (id === this.chosen ? HANDLE_CHOSEN : plain);
      const [x, y] = [at[0] * zoom + e, at[1] * zoom + f];
      if (x < -half || y < -half || x > canvas.width + half || y > canvas.height + half) continue;
      ctx.fillRect(x - half, y - half, 2 * half, 2 * half);
      ctx.strokeRect(x - half, y - half, 2 * half, 2 * half);
      if (id === this.chosen) {
        ctx.fillStyle = this.ink;
        const core = half - 4 * this.detail;
        ctx.fillRect(x - core, y - core, 2 * core, 2 * core);
        ctx.fillStyle = this.paper;
      }
    }
    ctx.restore();
  }
}

/** How far a handle usually lies from the next, in the sheet's units. */
function medianSpacing(list: readonly Handle[]): number {
  const gaps = list
    .slice(1)
    .map(({ at }, i) => Math.hypot(at[0] - (list[i]?.at[0] ?? 0), at[1] - (list[i]?.at[1] ?? 0)));
  return gaps.sort((a, b) => a - b)[gaps.length >> 1] ?? Infinity;
}

const clamp = (zoom: number) => Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, zoom));
