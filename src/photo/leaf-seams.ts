import { bounds, intersection, type Point, type Polygon, regionArea } from '../geometry';
import type { FacePicture } from '../raster';
import { sampleBand } from './band';

/**
 * Where leaves touch or overlap, colour alone finds one piece: they are told apart by the joint between them, a dark line or a step of colour that runs
 * straight from end to end as no ring does.
 */

/** Lines are read over so many stretches of the piece. */
const STRETCHES = 40;
/** Stations of a stretch, whose mean it is. */
const STATIONS = 5;
/** A joint may lie out of line with the piece by this much, mm a mm. */
const SLANT = 0.035;
/** Stretches of a joint that may show nothing of it: chips, knots, the leaves' uneven ends. */
const BARE = 0.3;
/** Half the width of the line, and what lies beside it on either side, mm. */
const LINE = 2;
const BESIDE = 6;
/** A change of colour (CIELAB) below this is no joint; and it must stand out from all other lines by so much. */
const CLEAR = 5;
const STANDS_OUT = 2;
/** What a step of colour counts beside a dark line. */
const STEP_COUNTS = 0.7;

/** A straight joint through a piece: mm across at its two ends, in the piece's own frame, and how clear it is. */
interface Joint {
  readonly from: number;
  readonly to: number;
  readonly clear: number;
}

/** A piece's frame: its middle, and the way along it. */
export interface Lying {
  readonly middle: Point<'face'>;
  /** Radians from +x. */
  readonly along: number;
  /** Half its length and width, mm. */
  readonly half: readonly [number, number];
}

/** The box around a ring whose sides run along and across a way. */
export function lyingAlong(ring: Polygon<'face'>, along: number): Lying {
  const [c, s] = [Math.cos(along), Math.sin(along)];
  const box = bounds(ring.map(([x, y]): Point<'face'> => [c * x + s * y, c * y - s * x]));
  const [u, v] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  return {
    middle: [c * u - s * v, s * u + c * v],
    along,
    half: [(box.maxX - box.minX) / 2, (box.maxY - box.minY) / 2],
  };
}

/**
 * Joints that run through a piece from end to end, from one side to the other, none nearer than `least` mm to a side or to another.
 * @param picture the piece and some of what lies around it
 */
export function jointsIn(picture: FacePicture, lying: Lying, least: number): Joint[] {
  const { half } = lying;
  const step = picture.mmPerPx;
  const lines = linesOf(picture, lying);
  const columns = lines.length / STRETCHES;
  const most = Math.max(1, Math.round((SLANT * 2 * half[0]) / step));
  // The clearest line through each place of its middle, whatever its slant.
  const found = Array.from({ length: columns }, (_, c): Joint => {
    let best: Joint = { from: 0, to: 0, clear: 0 };
    for (let d = -most; d <= most; d++) {
      const clear = clearness(lines, columns, c - d / 2, c + d / 2);
      const at = (column: number) => column * step - half[1];
      if (clear > best.clear) best = { from: at(c - d / 2), to: at(c + d / 2), clear };
    }
    return best;
  });
  const room = Math.ceil(least / step);
  const inner = found.slice(room, columns - room);
  const usual = quantile(
    inner.map(({ clear }) => clear),
    0.75,
  );
  const clearest = inner
    .filter(({ clear }) => clear >= Math.max(CLEAR, STANDS_OUT * usual))
    .sort((a, b) => b.clear - a.clear);
  const joints: Joint[] = [];
  const middle = ({ from, to }: Joint) => (from + to) / 2;
  for (const one of clearest)
    if (joints.every((other) => Math.abs(middle(one) - middle(other)) >= least)) joints.push(one);
  return joints.sort((a, b) => middle(a) - middle(b));
}

/** The parts of a ring between joints, the largest piece of each. */
export function partedAt(
  ring: Polygon<'face'>,
  { middle, along, half }: Lying,
  joints: readonly Joint[],
): Polygon<'face'>[] {
  const [c, s] = [Math.cos(along), Math.sin(along)];
  const place = (u: number, v: number): Point<'face'> => [middle[0] + c * u - s * v, middle[1] + s * u + c * v];
  const [far, beyond] = [half[0] + 1, 2 * half[1]];
  const limits: readonly Pick<Joint, 'from' | 'to'>[] = [
    { from: -beyond, to: -beyond },
    ...joints,
    { from: beyond, to: beyond },
  ];
  return limits.slice(1).flatMap((high, i): Polygon<'face'>[] => {
    const low = limits[i] as Joint;
    const strip = [place(-far, low.from), place(far, low.to), place(far, high.to), place(-far, high.from)];
    const parts = intersection([{ outer: ring, holes: [] }], [{ outer: strip, holes: [] }]);
    const largest = parts.sort((p, q) => regionArea(q) - regionArea(p))[0];
    return largest ? [largest.outer] : [];
  });
}

/** How much each place of each stretch looks like a joint: [stretch][column], CIELAB. */
function linesOf(picture: FacePicture, { middle, along, half }: Lying): Float32Array {
  const [c, s] = [Math.cos(along), Math.sin(along)];
  const step = picture.mmPerPx;
  const count = STRETCHES * STATIONS;
  const stations = Array.from({ length: count }, (_, i) => {
    const u = ((2 * (i + 0.5)) / count - 1) * half[0];
    return { at: [middle[0] + c * u, middle[1] + s * u] as Point<'face'>, normal: [-s, c] as const };
  });
  const hides = new Uint8Array(picture.raster.width * picture.raster.height);
  const band = sampleBand(picture, hides, stations, -half[1], half[1], step);
  const { columns } = band;
  const planes = [band.L, band.a, band.b].map((plane) => {
    const out = new Float32Array(STRETCHES * columns);
    for (let i = 0; i < plane.length; i++) {
      const k = Math.floor(i / columns / STATIONS) * columns + (i % columns);
      out[k] = (out[k] as number) + (plane[i] as number) / STATIONS;
    }
    return out;
  });
  const [near, far] = [Math.max(1, Math.round(LINE / step)), Math.max(2, Math.round(BESIDE / step))];
  const mean = (plane: Float32Array, k: number, from: number, to: number): number => {
    let sum = 0;
    for (let d = from; d <= to; d++) sum += plane[k + d] as number;
    return sum / (to - from + 1);
  };
  const [L] = planes as [Float32Array];
  return L.map((light, k) => {
    const column = k % columns;
    if (column < far || column >= columns - far) return 0;
    const sides = planes.map((plane) => [mean(plane, k, -far, -near), mean(plane, k, near, far)] as const);
    const dark = Math.min(...(sides[0] as readonly [number, number])) - light;
    return Math.max(dark, STEP_COUNTS * Math.hypot(...sides.map(([p, q]) => p - q)));
  });
}

/** What all but the barest stretches of a line show at least. */
function clearness(lines: Float32Array, columns: number, from: number, to: number): number {
  const shown = Float32Array.from({ length: STRETCHES }, (_, i) => {
    const at = Math.round(from + ((to - from) * (i + 0.5)) / STRETCHES);
    const about = (d: number) => (at + d >= 0 && at + d < columns ? (lines[i * columns + at + d] as number) : 0);
    return Math.max(about(-1), about(0), about(1));
  });
  return shown.sort()[Math.floor(BARE * STRETCHES)] as number;
}

const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.floor(share * values.length)] ?? 0;
