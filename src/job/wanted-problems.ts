import { bounds, crossesItself, intersection, type Polygon, rectangle, regionsArea } from '../geometry';
import { formatLength, InputProblem } from '../units';
import type { Job } from './job';
import type { Top } from './wanted';
import { wantedTop } from './wanted-tops';

/**
 * What is wrong with a wanted top as it was typed or drawn: things that no schema of single fields can tell. Each is an `InputProblem` whose `where`
 * is the field's JSON pointer in the job.
 */

/** Areas smaller than this, mm2, are rounding. */
const SLIVER = 4;

const outside = (ring: Polygon<'top'>, whole: Polygon<'top'>): number => {
  const shared = intersection([{ outer: ring, holes: [] }], [{ outer: whole, holes: [] }]);
  return regionsArea([{ outer: ring, holes: [] }]) - regionsArea(shared);
};

/** How far an end stands in at its shorter side, mm. */
const standsIn = (degrees: number, depth: number): number => Math.abs(depth / Math.tan((degrees * Math.PI) / 180));

/** The widest ± (two sigma) of the job's outlines, mm; 0 where there is none. */
const widestDoubt = (job: Job): number =>
  Math.max(
    0,
    ...Object.values(job.flitches)
      .flatMap(({ slabs }) => Object.values(slabs))
      .flatMap(({ faces }) => [faces.top, faces.bottom])
      .map(({ outline, outlineSigma }) => (outline ? 2 * (outlineSigma ?? 0) : 0)),
  );

/** All that is wrong with one wanted top; nothing where it can be laid out. */
export function topProblems(job: Job, given: Top): InputProblem[] {
  const problems: InputProblem[] = [];
  const say = (mm: number): string => formatLength(mm, job.units);
  const at = (field: string, message: string, mend: string): void => {
    problems.push(new InputProblem(message, `/tops/${given.id}/${field}`, mend));
  };
  if (given.shape?.kind === 'polygon' && crossesItself(given.shape.outline)) {
    at('shape', 'The outline of the shape crosses itself.', 'Put its corners in order around the shape.');
    return problems;
  }
  // A shape sets the length and depth of its box, and its edges.
  const top = wantedTop({ tops: { [given.id]: { ...given, count: 1 } } }, given.id) ?? given;
  const { length, depth, ends, swing, leastStrip, seams } = top;
  const [right, left] = [standsIn(ends.right.degrees, depth[1]), standsIn(ends.left.degrees, depth[1])];
  const lean = (degrees: number): number => (degrees === 90 ? 0 : Math.sign(degrees - 90));
  const [byFront, byBack] = [1, -1].map(
    (side) => (lean(ends.right.degrees) === side ? right : 0) + (lean(ends.left.degrees) === side ? left : 0),
  ) as [number, number];
  if (Math.max(byFront, byBack) >= length)
    at(
      'ends',
      `The two ends meet before the ${byFront > byBack ? 'front' : 'back'}: nothing of it is left.`,
      'Set the angles nearer to 90°, or make the top longer.',
    );
  if (seams > 0 && 2 * leastStrip > depth[1])
    at(
      'leastStrip',
      `Two strips of ${say(leastStrip)} are deeper than the top.`,
      depth[1] < 2 ? 'Allow no seam.' : `Allow strips of ${say(Math.floor(depth[1] / 2))}, or no seam.`,
    );
  const doubt = widestDoubt(job);
  if (swing !== null && swing < doubt)
    at(
      'swing',
      `A swing of ${say(swing)} cannot be told: the photos give the edge to ±${say(doubt)}.`,
      `Allow at least ${say(doubt)}, or measure the slabs closer.`,
    );
  const box = rectangle<'top'>(0, 0, length, depth[1]);
  for (const [field, name, zones] of [
    ['covered', 'A covered part', top.covered],
    ['noSeam', 'A zone without seams', top.noSeam],
    ['cutOuts', 'A hole', top.cutOuts],
  ] as const) {
    for (const { id, polygon } of Object.values(zones)) {
      if (crossesItself(polygon)) {
        at(`${field}/${id}`, `${name} crosses itself.`, 'Put its corners in order.');
        continue;
      }
      const over = outside(polygon, box);
      if (field === 'cutOuts' ? over > SLIVER : over > regionsArea([{ outer: polygon, holes: [] }]) - SLIVER) {
        const { minX, maxX, minY, maxY } = bounds(polygon);
        const by = Math.max(maxX - length, maxY - depth[1], -minX, -minY);
        at(`${field}/${id}`, `${name} lies outside the top by up to ${say(by)}.`, 'Move it inside, or take it out.');
      }
    }
  }
  return problems;
}

/** @throws InputProblem for the first thing wrong with any wanted top */
export function refuseBadTops(job: Job): void {
  for (const top of Object.values(job.tops)) {
    const [problem] = topProblems(job, top);
    if (problem) throw problem;
  }
}
