import type { Hatch, Pen } from './items';

/** How each pen and hatch looks, in screen pixels. Colours are the tokens of styles/tokens.css. */
export interface Stroke {
  token: '--ink' | '--ink-soft' | '--chalk' | '--red';
  width: number;
  dash: number[];
}

export const STROKES: Record<Pen, Stroke> = {
  ink: { token: '--ink', width: 1.75, dash: [] },
  faint: { token: '--ink-soft', width: 1, dash: [2, 3] },
  measured: { token: '--chalk', width: 1.5, dash: [12, 3, 2, 3] },
  cut: { token: '--red', width: 1.75, dash: [] },
  rough: { token: '--red', width: 1.75, dash: [9, 5] },
  joint: { token: '--red', width: 2.75, dash: [] },
  broken: { token: '--ink', width: 1.75, dash: [7, 5] },
  fine: { token: '--chalk', width: 1.25, dash: [] },
  centre: { token: '--ink', width: 1.5, dash: [16, 4, 3, 4] },
  chosen: { token: '--chalk', width: 2.5, dash: [] },
  ahead: { token: '--chalk', width: 2.5, dash: [4, 4] },
  wood: { token: '--ink', width: 4, dash: [] },
  'not wood': { token: '--ink', width: 4, dash: [4, 5] },
};

/** A tile of hatching: its side in pixels and what is drawn on it, as line segments and dots. */
interface Tile {
  side: number;
  lines: [number, number, number, number][];
  dots?: [number, number][];
}

/** Each kind has a hatch that can be told from the others in black and white. */
const TILES: Record<Exclude<Hatch, 'none'>, Tile> = {
  knot: {
    side: 8,
    lines: [
      [0, 4, 8, 4],
      [4, 0, 4, 8],
    ],
  },
  crack: { side: 5, lines: [[2.5, 0, 2.5, 5]] },
  void: {
    side: 8,
    lines: [
      [0, 0, 8, 8],
      [0, 8, 8, 0],
    ],
  },
  'bark inclusion': { side: 8, lines: [[0, 8, 8, 0]] },
  shake: {
    side: 8,
    lines: [
      [0, 2, 4, 6],
      [4, 6, 8, 2],
    ],
  },
  stain: {
    side: 7,
    lines: [],
    dots: [
      [1.5, 1.5],
      [5, 5],
    ],
  },
  rot: { side: 6, lines: [[0, 0, 6, 6]] },
  pith: { side: 6, lines: [[0, 3, 3, 3]] },
  covered: { side: 14, lines: [[0, 0, 14, 14]] },
  key: { side: 5, lines: [[0, 2.5, 5, 2.5]] },
  doubt: {
    side: 12,
    lines: [
      [0, 12, 12, 0],
      [0, 9, 9, 0],
    ],
  },
  hidden: {
    side: 10,
    lines: [
      [0, 5, 5, 0],
      [5, 10, 10, 5],
      [0, 5, 5, 10],
      [5, 0, 10, 5],
    ],
  },
  sapwood: { side: 12, lines: [], dots: [[6, 6]] },
  hardly: { side: 7, lines: [], dots: [[3.5, 3.5]] },
  shows: { side: 6, lines: [[0, 6, 6, 0]] },
  plain: {
    side: 4,
    lines: [
      [0, 4, 4, 0],
      [0, 0, 4, 4],
    ],
  },
};

const drawn = new Map<string, HTMLCanvasElement>();

/** A tile of hatching in one colour; drawn once for each colour and scale. */
export function hatchTile(hatch: Exclude<Hatch, 'none'>, colour: string, scale: number): HTMLCanvasElement {
  const key = `${hatch} ${colour} ${scale}`;
  const tile = drawn.get(key) ?? drawTile(hatch, colour, scale);
  drawn.set(key, tile);
  return tile;
}

function drawTile(hatch: Exclude<Hatch, 'none'>, colour: string, scale: number): HTMLCanvasElement {
  const { side, lines, dots = [] } = TILES[hatch];
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = Math.round(side * scale);
  const ink = canvas.getContext('2d');
  if (!ink) return canvas;
  ink.scale(canvas.width / side, canvas.height / side);
  ink.strokeStyle = colour;
  ink.fillStyle = colour;
  ink.lineWidth = 1;
  for (const [x1, y1, x2, y2] of lines) {
    ink.beginPath();
    ink.moveTo(x1, y1);
    ink.lineTo(x2, y2);
    ink.stroke();
  }
  for (const [x, y] of dots) ink.fillRect(x - 0.75, y - 0.75, 1.5, 1.5);
  return canvas;
}

/** The colours and typefaces that hold where an element stands, each looked up once. */
export function tokensOf(element: HTMLElement): (token: string) => string {
  const style = getComputedStyle(element);
  const known = new Map<string, string>();
  return (token) => {
    const value = known.get(token) ?? style.getPropertyValue(token).trim();
    known.set(token, value);
    return value;
  };
}
