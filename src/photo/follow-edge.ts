import { type Point, simplifyLine } from '../geometry';
import { blur, type FacePicture, labPlanes, type Plane, rasterOf } from '../raster';
import { cheapestWay } from './cheapest-way';

/**
 * A line that follows the clearest edge between two points, as the way of least cost over a grid on which an edge is cheap to walk along
 * ("live wire": Mortensen and Barrett 1995, Intelligent scissors for image composition). Colour edges after Di Zenzo (1986).
 */

/** Room on all sides of the two points, as a share of the way between them, and its limits, mm. */
const ROOM = 0.35;
const LEAST_ROOM = 10;
const MOST_ROOM = 60;
/** The grid has at most so many nodes, so that a pointer's every move can be answered; long ways get a coarser one. */
const MOST_NODES = 40_000;
/** Grain and noise finer than this, mm, are no edge. */
const GRAIN = 1;
/** What a step costs along the clearest edge, where away from all edges it costs 1 more. */
const ALONG = 0.04;
/** Changes of colour below this (CIELAB per mm) are noise, whatever else the window shows. */
const NOISE = 1.5;
/** The line is smoothed over so many nodes either way, and simplified to within this, mm. */
const SMOOTH = 2;
const SIMPLER = 0.15;

/** A part of a picture as a grid of nodes: node (c, r) stands at x0 + (c + .5) step, y0 + (r + .5) step. mm */
interface EdgeGrid {
  readonly width: number;
  readonly height: number;
  readonly step: number;
  readonly x0: number;
  readonly y0: number;
  /** Change of colour at each node, CIELAB per mm; 0 where the picture shows nothing. */
  readonly strength: Float32Array;
}

/**
 * The line along the strongest edge from one point to another, mm on the face. It begins and ends exactly where asked, stays within a
 * window around the two, and lies on the edge to a fraction of a pixel; where there is no edge it runs straight.
 */
export function followEdge(picture: FacePicture, from: Point<'face'>, to: Point<'face'>): Point<'face'>[] {
  const grid = gridAbout(picture, from, to);
  if (!grid) return [from, to];
  const { width, height, step, x0, y0, strength } = grid;
  const clear = Math.max(NOISE, 0.5 * quantile(strength, 0.95));
  const price = strength.map((v) => ALONG + 1 / (1 + (v / clear) ** 2));
  const node = ([x, y]: Point<'face'>): number => {
    const c = Math.max(0, Math.min(width - 1, Math.floor((x - x0) / step)));
    const r = Math.max(0, Math.min(height - 1, Math.floor((y - y0) / step)));
    return r * width + c;
  };
  const way = cheapestWay(price, width, node(from), node(to));
  const fine = way.slice(1, -1).map((k) => sharpened(grid, k));
  return simplifyLine(smoothed([from, ...fine, to]), SIMPLER);
}

/**
 * The clearest edge near a place, mm on the face: where a hand that means the edge would have set its point. Of two alike the nearer one.
 * @param within how far off it may lie, mm; no more than 10 mm are looked at
 * @returns null where the picture shows no edge there
 */
export function nearestEdge(picture: FacePicture, at: Point<'face'>, within: number): Point<'face'> | null {
  const grid = gridAbout(picture, at, at);
  if (!grid) return null;
  const { width, step, x0, y0, strength } = grid;
  let best = -1;
  let most = NOISE;
  strength.forEach((v, k) => {
    const off = Math.hypot(x0 + ((k % width) + 0.5) * step - at[0], y0 + (Math.floor(k / width) + 0.5) * step - at[1]);
    const worth = off > within ? 0 : v * (1 - 0.5 * (off / within) ** 2);
    if (worth > most) [best, most] = [k, worth];
  });
  return best < 0 ? null : sharpened(grid, best);
}

/** The nodes about two points; null where the picture does not reach. */
function gridAbout({ raster, mmPerPx, x0, y0 }: FacePicture, p: Point<'face'>, q: Point<'face'>): EdgeGrid | null {
  const room = Math.max(LEAST_ROOM, Math.min(MOST_ROOM, ROOM * Math.hypot(q[0] - p[0], q[1] - p[1])));
  const [left, right] = [Math.min(p[0], q[0]) - room, Math.max(p[0], q[0]) + room];
  const [top, bottom] = [Math.min(p[1], q[1]) - room, Math.max(p[1], q[1]) + room];
  const pixels = ((right - left) * (bottom - top)) / (mmPerPx * mmPerPx);
  const by = Math.max(1, Math.ceil(Math.sqrt(pixels / MOST_NODES)));
  const [c0, r0] = [Math.max(0, Math.floor((left - x0) / mmPerPx)), Math.max(0, Math.floor((top - y0) / mmPerPx))];
  const width = Math.floor((Math.min(raster.width, Math.ceil((right - x0) / mmPerPx)) - c0) / by);
  const height = Math.floor((Math.min(raster.height, Math.ceil((bottom - y0) / mmPerPx)) - r0) / by);
  if (width < 3 || height < 3) return null;
  const { channels, data } = raster;
  const rgb = new Uint8ClampedArray(width * height * 3);
  const seen = new Uint8Array(width * height).fill(1);
  const sum = new Float64Array(3);
  for (let k = 0; k < width * height; k++) {
    const [c, r] = [c0 + (k % width) * by, r0 + Math.floor(k / width) * by];
    sum.fill(0);
    for (let j = 0; j < by * by; j++) {
      const at = ((r + Math.floor(j / by)) * raster.width + c + (j % by)) * channels;
      if (channels === 4 && (data[at + 3] as number) < 128) seen[k] = 0;
      for (let ch = 0; ch < 3; ch++)
        sum[ch] = (sum[ch] as number) + (data[at + (channels === 1 ? 0 : ch)] as number) / (by * by);
    }
    rgb.set(sum, k * 3);
  }
  const step = by * mmPerPx;
  const { L, a, b } = labPlanes(rasterOf(width, height, 3, rgb));
  const soft = [L, a, b].map((plane) => blur(plane, Math.max(0.7, GRAIN / step)));
  const strength = change(soft, seen, step);
  return { width, height, step, x0: x0 + c0 * mmPerPx, y0: y0 + r0 * mmPerPx, strength };
}

/** The greatest change per mm that any direction shows, all three planes together: root of the structure tensor's larger eigenvalue. */
function change(planes: readonly Plane[], seen: Uint8Array, step: number): Float32Array {
  const { width, height } = planes[0] as Plane;
  const out = new Float32Array(width * height);
  for (let r = 1; r < height - 1; r++) {
    for (let k = r * width + 1; k < (r + 1) * width - 1; k++) {
      if (!(seen[k - 1] && seen[k + 1] && seen[k - width] && seen[k + width])) continue;
      let [xx, xy, yy] = [0, 0, 0];
      for (const { data } of planes) {
        const dx = (data[k + 1] as number) - (data[k - 1] as number);
        const dy = (data[k + width] as number) - (data[k - width] as number);
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
      }
      out[k] = Math.sqrt(0.5 * (xx + yy + Math.hypot(xx - yy, 2 * xy))) / (2 * step);
    }
  }
  return out;
}

/** Where across the way the edge is clearest, within one and a half nodes: the crest of a parabola through three strengths. */
function sharpened({ width, step, x0, y0, strength }: EdgeGrid, k: number): Point<'face'> {
  const crest = (by: number): number => {
    const [before, here, after] = [strength[k - by] ?? 0, strength[k] as number, strength[k + by] ?? 0];
    const curve = before - 2 * here + after;
    return curve < -1e-6 ? Math.max(-1, Math.min(1, (before - after) / (2 * curve))) : 0;
  };
  const bent = (by: number): number => (strength[k - by] ?? 0) - 2 * (strength[k] as number) + (strength[k + by] ?? 0);
  // Along the edge its strength hardly bends: moving there would only bunch the points.
  const upright = bent(1) < bent(width);
  const [dx, dy] = upright ? [crest(1), 0] : [0, crest(width)];
  return [x0 + ((k % width) + 0.5 + dx) * step, y0 + (Math.floor(k / width) + 0.5 + dy) * step];
}

/** Mean over SMOOTH points either way; the ends stay. */
function smoothed(line: readonly Point<'face'>[]): Point<'face'>[] {
  return line.map((p, i) => {
    const half = Math.min(SMOOTH, i, line.length - 1 - i);
    if (half === 0) return p;
    let [x, y] = [0, 0];
    for (const q of line.slice(i - half, i + half + 1)) {
      x += q[0];
      y += q[1];
    }
    return [x / (2 * half + 1), y / (2 * half + 1)];
  });
}

const quantile = (values: Float32Array, share: number): number =>
  values.slice().sort()[Math.floor(share * (values.length - 1))] as number;
