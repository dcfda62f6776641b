import { contains, distance, distanceToRing, intersection, type Point, type Polygon, ringArea } from '../geometry';
import { type Faces, linearSurface, type Spot3 } from '../surface';
import { InputProblem } from '../units';
import { movement } from '../wood';
import type { FlattenInput } from './io';

type At = Point<'face'>;

/** Points nearer to each other than this stand at one place, mm. */
const SAME_PLACE = 1e-6;
/** Readings narrower than this share of their length lie on one line. */
const ONE_LINE = 1e-6;

/** Faults that a schema cannot see. @throws InputProblem with the JSON pointer of the first */
export function checkFlattening(input: FlattenInput): void {
  const { surfaces, warp, drying } = input;
  if (surfaces === undefined && warp === undefined)
    throw new InputProblem(
      'Nothing tells how the slab lies.',
      '/surfaces',
      'Give readings as "surfaces", or a "warp".',
    );
  if (surfaces !== undefined && warp !== undefined)
    throw new InputProblem('Both "surfaces" and "warp" are given.', '/warp', 'Leave one of them out.');
  if (surfaces !== undefined) {
    checkReadings(surfaces.top, 'top');
    checkReadings(surfaces.bottom, 'bottom');
    checkOrder(surfaces);
  }
  input.blanks.forEach(({ id, polygon, holes }, i) => {
    const twin = input.blanks.findIndex((other) => other.id === id);
    if (twin < i)
      throw new InputProblem(`Two blanks are called "${id}".`, `/blanks/${i}/id`, 'Give each blank a name of its own.');
    checkRing(polygon, `/blanks/${i}/polygon`);
    holes?.forEach((hole, k) => {
      checkRing(hole, `/blanks/${i}/holes/${k}`);
      if (hole.every((p) => contains(polygon, p) || distanceToRing(p, polygon) < SAME_PLACE)) return;
      throw new InputProblem(
        'The hole reaches out of the blank.',
        `/blanks/${i}/holes/${k}`,
        'Give the part of it that lies inside.',
      );
    });
    if (warp) checkInside(polygon, warp, `/blanks/${i}/polygon`);
  });
  if (drying) checkDrying(drying);
}

/** What only the wood room knows: species, and moistures that it can follow. */
function checkDrying(drying: NonNullable<FlattenInput['drying']>): void {
  try {
    movement({ ...drying, width: 1, cut: 'through' });
  } catch (problem) {
    throw problem instanceof InputProblem ? problem.under('/drying') : problem;
  }
}

/** @throws InputProblem where a blank has nothing to do with the readings */
export function checkReach(polygon: Polygon<'face'>, faces: Faces, where: string): void {
  for (const face of ['top', 'bottom'] as const) {
    const met = intersection([{ outer: polygon, holes: [] }], [{ outer: faces[face].reach, holes: [] }]);
    if (met.length > 0) continue;
    throw new InputProblem(
      `The blank lies wholly outside the readings of the ${face} face.`,
      where,
      'Give blanks and readings in one frame, and read where the blank lies.',
    );
  }
}

function checkReadings(spots: readonly Spot3[], face: 'top' | 'bottom'): void {
  const where = `/surfaces/${face}`;
  const seen = new Map<string, number>();
  spots.forEach(([x, y, z], i) => {
    const place = [x, y].map((u) => Math.round(u / SAME_PLACE)).join();
    const twin = seen.get(place);
    seen.set(place, i);
    if (twin === undefined || (spots[twin] as Spot3)[2] === z) return;
    throw new InputProblem(
      `Readings ${twin} and ${i} of the ${face} face stand at one place, [${x}, ${y}], with different heights.`,
      `${where}/${i}`,
      'Keep the right one.',
    );
  });
  if (seen.size < 3)
    throw new InputProblem(
      `The ${face} face has readings at ${seen.size} places only.`,
      where,
      'Read it at three places at least.',
    );
  const [first] = spots as [Spot3];
  const far = spots.reduce((a, b) => (apart(first, b) > apart(first, a) ? b : a));
  const wide = spots.some((p) => Math.abs(turn(first, far, p)) > ONE_LINE * apart(first, far) ** 2);
  if (!wide)
    throw new InputProblem(
      `All readings of the ${face} face stand on one line, which does not tell how it lies across.`,
      where,
      'Add a reading beside that line.',
    );
}

const apart = (p: Spot3, q: Spot3): number => Math.hypot(p[0] - q[0], p[1] - q[1]);
const turn = (o: Spot3, p: Spot3, q: Spot3): number => (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);

/** The bottom must lie under the top wherever one of them was read and the other is known. */
function checkOrder(surfaces: NonNullable<FlattenInput['surfaces']>): void {
  const other = { top: 'bottom', bottom: 'top' } as const;
  for (const face of ['bottom', 'top'] as const) {
    const known = linearSurface(surfaces[other[face]].map(([x, y, z]) => ({ at: [x, y], z, sigma: 0 })));
    surfaces[face].forEach(([x, y, z], i) => {
      const thickness = (face === 'top' ? 1 : -1) * (z - known.height([x, y]));
      const read = contains(known.reach, [x, y]) || distanceToRing([x, y], known.reach) < SAME_PLACE;
      if (thickness > 0 || !read) return;
      throw new InputProblem(
        `At [${x}, ${y}] the bottom face stands ${(-thickness).toFixed(1)} mm over the top face.`,
        `/surfaces/${face}/${i}`,
        'Give the heights of both faces over one plane, upward.',
      );
    });
  }
}

function checkRing(ring: Polygon<'face'>, where: string): void {
  ring.forEach((p, i) => {
    const next = (i + 1) % ring.length;
    if (distance(p, ring[next] as At) > SAME_PLACE) return;
    throw new InputProblem(
      next === 0
        ? 'The first point of the blank is repeated at the end.'
        : `Point ${next} of the blank repeats the one before it.`,
      `${where}/${next === 0 ? i : next}`,
      'Take it out.',
    );
  });
  for (let i = 0; i < ring.length; i++) {
    for (let j = i + 2; j < ring.length; j++) {
      if (i === 0 && j === ring.length - 1) continue;
      if (!cross(ring, i, j)) continue;
      throw new InputProblem(
        `Edges ${i} and ${j} of the blank cross each other.`,
        where,
        'List its corners in their order around it.',
      );
    }
  }
  if (ringArea(ring) < 1) throw new InputProblem('The blank has no area.', where, 'Give corners that enclose it.');
}

/** Whether two edges of a ring have a point in common. */
function cross(ring: Polygon<'face'>, i: number, j: number): boolean {
  const [a, b, c, d] = [i, i + 1, j, j + 1].map((k) => [...(ring[k % ring.length] as At), 0]) as unknown as [
    Spot3,
    Spot3,
    Spot3,
    Spot3,
  ];
  const [s1, s2, s3, s4] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)].map(Math.sign);
  if (s1 !== s2 && s3 !== s4) return true;
  const on = (p: Spot3, q: Spot3, r: Spot3): boolean =>
    r[0] >= Math.min(p[0], q[0]) &&
    r[0] <= Math.max(p[0], q[0]) &&
    r[1] >= Math.min(p[1], q[1]) &&
    r[1] <= Math.max(p[1], q[1]);
  return (
    (s1 === 0 && on(a, b, c)) || (s2 === 0 && on(a, b, d)) || (s3 === 0 && on(c, d, a)) || (s4 === 0 && on(c, d, b))
  );
}

function checkInside(ring: Polygon<'face'>, warp: NonNullable<FlattenInput['warp']>, where: string): void {
  const out = ring.findIndex(([x, y]) => Math.abs(x) > warp.length / 2 + 1e-6 || Math.abs(y) > warp.width / 2 + 1e-6);
  if (out < 0) return;
  const [x, y] = ring[out] as At;
  throw new InputProblem(
    `The blank's corner [${x}, ${y}] lies outside the slab of ${warp.length} x ${warp.width} mm.`,
    `${where}/${out}`,
    "Measure from the slab's centre, or give the slab's real size.",
  );
}
