import type { AreaItem, Item, LineItem, PictureItem, StrokesItem, TextItem, XY } from './items';
import { placeTexts } from './labels';
import { hatchTile, STROKES, tokensOf } from './paint';

/** Where the sheet lies on the screen: pixels per unit, and where its origin comes to lie. */
export interface Standing {
  readonly zoom: number;
  readonly origin: XY;
}

/** A dot of rim on either side of a line and around letters, px. */
const RIM = 4;
const RIM_STRENGTH = 0.6;
/** Room beside the letters in their box, px. */
const BOX_PAD = 9;
/** Height of a text with its box, px. */
const LINE = 20;
const LETTERS = { bare: 16, ring: 13, box: 13 } as const;

/**
 * What follows a hand, on a canvas of its own over the sheet: painted anew at every frame while all else stays as it was painted. It looks as
 * on the sheet, and takes a tenth of the time: nothing is kept from one frame to the next.
 */
export class Moving {
  private items: readonly Item[] = [];
  private readonly widths = new Map<string, number>();

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly host: HTMLElement,
  ) {}

  show(items: readonly Item[], at: Standing): void {
    if (items.length === 0 && this.items.length === 0) return;
    this.items = items;
    this.paint(at);
  }

  /** Paints again after the sheet was moved, zoomed or resized. */
  paint({ zoom, origin: [e, f] }: Standing): void {
    const ink = this.canvas.getContext('2d');
    this.canvas.hidden = this.items.length === 0;
    if (!ink || this.items.length === 0) return;
    const { clientWidth, clientHeight } = this.host;
    const detail = globalThis.devicePixelRatio || 1;
    const [width, height] = [Math.round(clientWidth * detail), Math.round(clientHeight * detail)];
    if (this.canvas.width !== width || this.canvas.height !== height) Object.assign(this.canvas, { width, height });
    ink.setTransform(1, 0, 0, 1, 0, 0);
    ink.clearRect(0, 0, width, height);
    const painter = new Painter(ink, tokensOf(this.host), zoom, detail, this.widths);
    painter.place(this.items);
    for (const item of this.items) {
      ink.setTransform(detail * zoom, 0, 0, detail * zoom, detail * e, detail * f);
      painter.paint(item);
    }
  }
}

/** One frame's painting; the ink's frame is the sheet's when an item begins. */
class Painter {
  private places: ReadonlyMap<string, XY> = new Map();

  constructor(
    private readonly ink: CanvasRenderingContext2D,
    private readonly colour: (token: string) => string,
    private readonly zoom: number,
    private readonly detail: number,
    /** Widths of texts that were measured before, px: what follows a hand says the same at most frames. */
    private readonly widths: Map<string, number>,
  ) {}

  /** Keeps the texts of a frame off each other. */
  place(items: readonly Item[]): void {
    const texts = items.flatMap((item) => (item.kind === 'text' ? [item] : []));
    const sized = texts.map((item) => ({ item, width: this.widthOf(item), height: LINE }));
    this.places = placeTexts(sized, this.zoom);
  }

  paint(item: Item): void {
    if (item.kind === 'picture') this.picture(item);
    else if (item.kind === 'text') this.text(item);
    else if (item.kind !== 'spot') this.lines(item);
  }

  private picture({ image, map, strength = 1, clip }: PictureItem): void {
    const { ink } = this;
    ink.save();
    if (clip) {
      this.trace([clip], true);
      ink.clip();
    }
    ink.globalAlpha = strength;
    ink.transform(...(map as [number, number, number, number, number, number]));
    ink.drawImage(image, 0, 0);
    ink.restore();
  }

  private lines(item: LineItem | StrokesItem | AreaItem): void {
    const { ink, zoom } = this;
    const { token, width, dash } = STROKES[item.pen];
    const lines = item.kind === 'strokes' ? item.lines : [item.points, ...((item.kind === 'area' && item.holes) || [])];
    this.trace(lines, item.kind === 'area' || (item.kind === 'line' && (item.closed ?? false)));
    if (item.kind === 'area' && item.hatch !== 'none') {
      const pattern = ink.createPattern(hatchTile(item.hatch, this.colour(token), this.detail), 'repeat');
      const share = 1 / (zoom * this.detail);
      pattern?.setTransform(new DOMMatrix([share, 0, 0, share, 0, 0]));
      if (pattern) ink.fillStyle = pattern;
      ink.fill('evenodd');
    }
    ink.lineJoin = 'round';
    ink.setLineDash([]);
    ink.lineWidth = (2 * width) / zoom;
    ink.strokeStyle = this.colour('--paper');
    ink.globalAlpha = RIM_STRENGTH;
    ink.stroke();
    ink.globalAlpha = 1;
    ink.setLineDash(dash.map((d) => d / zoom));
    ink.lineWidth = width / zoom;
    ink.strokeStyle = this.colour(token);
    ink.stroke();
  }

  private trace(lines: readonly (readonly XY[])[], closed: boolean): void {
    const { ink } = this;
    ink.beginPath();
    for (const line of lines) {
      line.forEach(([x, y], i) => {
        if (i === 0) ink.moveTo(x, y);
        else ink.lineTo(x, y);
      });
      if (closed) ink.closePath();
    }
  }

  private widthOf({ shape, text }: TextItem): number {
    const key = `${shape} ${text}`;
    const known = this.widths.get(key);
    if (known !== undefined) return known;
    this.ink.font = this.font(shape);
    const width = this.ink.measureText(text).width + (shape === 'box' ? BOX_PAD : RIM);
    this.widths.set(key, width);
    return width;
  }

  private font(shape: TextItem['shape']): string {
    return `bold ${LETTERS[shape]}px ${this.colour('--serif')}`;
  }

  private text({ id, text, pen, shape, turn = 0 }: TextItem): void {
    const { ink, zoom } = this;
    const place = this.places.get(id);
    if (!place) return;
    const [x, y] = place;
    const [colour, paper] = [this.colour(STROKES[pen].token), this.colour('--paper')];
    ink.translate(x, y);
    ink.scale(1 / zoom, 1 / zoom);
    ink.rotate((turn * Math.PI) / 180);
    ink.font = this.font(shape);
    ink.textAlign = 'center';
    ink.textBaseline = 'middle';
    ink.setLineDash([]);
    if (shape === 'bare') {
      ink.strokeStyle = paper;
      ink.lineWidth = RIM;
      ink.strokeText(text, 0, 0);
    } else {
      const half = shape === 'ring' ? 10 : (ink.measureText(text).width + BOX_PAD) / 2;
      ink.beginPath();
      if (shape === 'ring') ink.arc(0, 0, half, 0, 2 * Math.PI);
      else ink.rect(-half, -10, 2 * half, 20);
      ink.fillStyle = shape === 'ring' ? paper : colour;
      ink.fill();
      ink.strokeStyle = colour;
      ink.lineWidth = 1.25;
      if (shape === 'ring') ink.stroke();
    }
    ink.fillStyle = shape === 'box' ? paper : colour;
    ink.fillText(text, 0, 0);
  }
}
