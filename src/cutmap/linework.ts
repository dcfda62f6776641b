import type { Point, Polygon } from '../geometry';
import { circle, type Element, type Path, path, text } from './drawing';

/** Hatches, dimensions and crosses: richer line work made of the drawing model's few shapes. */

type At = Point<'paper'>;

/** How each kind of defect is hatched: lines at these angles (degrees), this far apart (mm). Told apart without colour. */
export const HATCHES = {
  knot: { angles: [45, 135], step: 1.4 },
  crack: { angles: [], step: 1 },
  void: { angles: [0], step: 0.9 },
  'bark inclusion': { angles: [90], step: 1.2 },
  shake: { angles: [], step: 1 },
  stain: { angles: [45], step: 2.2 },
  rot: { angles: [0, 90], step: 1.6 },
  pith: { angles: [135], step: 1.8 },
} as const;
export type HatchKind = keyof typeof HATCHES;

/** The parallel lines that fill rings (even-odd), at an angle in degrees and a step in mm. */
export function hatchLines(rings: readonly Polygon<'paper'>[], degrees: number, step: number): Path[] {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  const turned = rings.map((ring) => ring.map(([x, y]) => [x * cos + y * sin, y * cos - x * sin] as const));
  const ys = turned.flat().map(([, y]) => y);
  const out: Path[] = [];
  // Whole multiples of the step, so that neighbouring areas share their lines.
  for (let k = Math.ceil(Math.min(...ys) / step); k * step <= Math.max(...ys); k++) {
    const y = k * step;
    const xs: number[] = [];
    for (const ring of turned) {
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
        const [xi, yi] = ring[i] as readonly [number, number];
        const [xj, yj] = ring[j] as readonly [number, number];
        if (yi > y !== yj > y) xs.push(xj + ((y - yj) * (xi - xj)) / (yi - yj));
      }
    }
    xs.sort((p, q) => p - q);
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const back = (x: number): At => [x * cos - y * sin, x * sin + y * cos];
      out.push(path([back(xs[i] as number), back(xs[i + 1] as number)], 'hatch'));
    }
  }
  return out;
}

/** An area hatched as its kind of defect, with its edge. */
export function hatch(ring: Polygon<'paper'>, kind: HatchKind): Path[] {
  const { angles, step } = HATCHES[kind];
  return [...angles.flatMap((angle) => hatchLines([ring], angle, step)), path(ring, 'defect', true)];
}

/**
 * A dimension between two points: extension lines, a line with slashes at its ends, and the figure in the middle over it.
 * @param offset how far the line stands off, mm, to the left hand as seen from the first point to the second
 */
export function dimension(from: At, to: At, offset: number, figure: string, size = 2.5): Element[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const [nx, ny] = [uy, -ux];
  const off = ([x, y]: At, by: number): At => [x + nx * by, y + ny * by];
  const [a, b] = [off(from, offset), off(to, offset)];
  const sign = Math.sign(offset) || 1;
  const slash = (p: At): Path =>
    path(
      [
        [p[0] - (ux + nx) * 1.2, p[1] - (uy + ny) * 1.2],
        [p[0] + (ux + nx) * 1.2, p[1] + (uy + ny) * 1.2],
      ],
      'measure',
    );
  let turn = (Math.atan2(uy, ux) * 180) / Math.PI;
  // Upright figures are read from the right, as on any drawing.
  const flipped = turn > 90 - 1e-9 || turn < -90 - 1e-9;
  if (flipped) turn += turn > 0 ? -180 : 180;
  // The figure stands over its line as it is read, whichever way the dimension runs.
  const up = (turn * Math.PI) / 180;
  const middle: At = [(a[0] + b[0]) / 2 + Math.sin(up) * 1.1, (a[1] + b[1]) / 2 - Math.cos(up) * 1.1];
  return [
    path([off(from, sign * 0.8), off(from, offset + sign * 1.2)], 'measure'),
    path([off(to, sign * 0.8), off(to, offset + sign * 1.2)], 'measure'),
    path([a, b], 'measure'),
    slash(a),
    slash(b),
    text(middle, figure, { size, bold: true, ink: 'chalk', anchor: 'middle', turn }),
  ];
}

/** Half the length of an arrow along the grain, and of its heads, mm. */
const [GRAIN, HEAD] = [7, 2];

/** A double arrow along the grain about a point, with its word beside it. */
export function grainArrow([x, y]: At, degrees: number): Element[] {
  const t = (degrees * Math.PI) / 180;
  const at = (along: number, across: number): At => [
    x + along * Math.cos(t) - across * Math.sin(t),
    y + along * Math.sin(t) + across * Math.cos(t),
  ];
  const head = (way: number): Path =>
    path([at(way * (GRAIN - HEAD), -HEAD / 2), at(way * GRAIN, 0), at(way * (GRAIN - HEAD), HEAD / 2)], 'frame');
  return [path([at(-GRAIN, 0), at(GRAIN, 0)], 'frame'), head(-1), head(1), text([x + GRAIN + 2, y + 1], 'grain')];
}

/** A mark to be found: a circle with a cross through it. */
export function crossMark(at: At, radius: number, line: 'datum' | 'rough' | 'measure' | 'frame'): Element[] {
  const solid = line === 'datum' ? 'measure' : line === 'rough' ? 'finished' : line;
  return [
    circle(at, radius, solid),
    path(
      [
        [at[0] - 1.7 * radius, at[1]],
        [at[0] + 1.7 * radius, at[1]],
      ],
      solid,
    ),
    path(
      [
        [at[0], at[1] - 1.7 * radius],
        [at[0], at[1] + 1.7 * radius],
      ],
      solid,
    ),
  ];
}
