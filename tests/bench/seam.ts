import { bounds, offset } from '../../src/geometry';
import { type FaceFeatures, faceFeatures, type JointSide, jointCost, SidesOfFace } from '../../src/grain';
import { benchOf, type SearchedSlab } from '../../src/layout/seam-found';
import { type Scored, type SeamBench, stripDepths } from '../../src/layout/seam-pair';
import { polish } from '../../src/layout/seam-polish';
import { type Depths, type LinePlace, lineAt, makesTop, type SeamWish } from '../../src/layout/seam-room';
import { findSeams } from '../../src/layout/seam-search';
import { spread } from '../../src/layout/spread';
import { unwatched } from '../../src/search';
import { drawnLog } from '../support/drawn-log';

/**
 * The search for a seam beside an exhaustive one over all five freedoms and the place along the front slab, on pairs of drawn logs that nothing was
 * chosen on (logs 1 to 6 were looked at). The best of the grid is also polished as the search polishes its own: between the grid's places there is more.
 */

const LOGS = [101, 102, 103, 104];
const LENGTH = 900;
const WISH: SeamWish = { length: 600, depth: [240, 420], front: 'straight', leastStrip: 60, keepOff: 'strip' };
const LIMITS = { slide: 60, angle: 1, ends: 'same' as const };
/** The grid: offsets, angles, slide and the place along the front slab; mm and degrees. */
const GRID = { rows: 2, degrees: 0.5, slide: 10, along: 100 };
const MARGIN = 2;

interface ReadLine {
  readonly place: LinePlace;
  readonly depths: Depths;
  readonly side: JointSide;
}

function linesAt(bench: SeamBench, side: 'front' | 'back', x: number, way: 1 | -1): ReadLine[] {
  const { room, features } = bench[side];
  const sides = new SidesOfFace(features, side === 'back');
  return spread(-LIMITS.angle, LIMITS.angle, GRID.degrees).flatMap((degrees) =>
    spread(room.minY, room.maxY, GRID.rows).flatMap((y): ReadLine[] => {
      const place: LinePlace = { x, y, degrees, way };
      const depths = stripDepths(bench[side], side, place);
      return depths ? [{ place, depths, side: sides.read(lineAt(place, WISH.length)) }] : [];
    }),
  );
}

/** Every pair of lines of the grid. */
function exhaustive(bench: SeamBench): Scored & { evaluated: number } {
  const { room, features } = bench.front;
  const half = WISH.length / 2;
  let best: Scored | null = null;
  let evaluated = 0;
  for (const way of [1, -1] as const) {
    for (const x of spread(room.minX + half + 10, room.maxX - half - 10, GRID.along)) {
      const fronts = linesAt(bench, 'front', x, way);
      for (const slide of spread(-LIMITS.slide, LIMITS.slide, GRID.slide)) {
        for (const b of linesAt(bench, 'back', x - way * slide, way)) {
          for (const f of fronts) {
            if (!makesTop(f.depths, b.depths, WISH)) continue;
            evaluated++;
            const cost = jointCost(f.side, b.side, features.kin);
            if (cost < (best?.cost ?? Infinity)) best = { front: f.place, back: b.place, cost };
          }
        }
      }
    }
  }
  if (!best) throw new Error('The drawn slabs hold no seam.');
  return { ...best, evaluated };
}

function drawnPair(seed: number): readonly [SearchedSlab, SearchedSlab] {
  const log = drawnLog(seed, LENGTH);
  const faces = [log(-45), log(15)] as const;
  const features = faceFeatures(
    faces.map(({ picture, outline }) => ({ picture, outline: { outer: outline, holes: [] }, defects: [] })),
    { kerf: 3 },
  );
  const slab = (i: 0 | 1): SearchedSlab => {
    const { outline } = faces[i];
    const { minX, maxX } = bounds(outline);
    const region = { outer: outline, holes: [] };
    const wood = { outline: region, inside: offset([region], -MARGIN), forbidden: [] };
    return { ...wood, features: features[i] as FaceFeatures, middle: (minX + maxX) / 2 };
  };
  return [slab(0), slab(1)];
}

const percent = (cost: number, other: number): string => `${(100 * (cost / other - 1)).toFixed(1)} %`;

for (const log of LOGS) {
  const [front, back] = drawnPair(log);
  const { seams, evaluated } = await findSeams(front, back, WISH, LIMITS, unwatched());
  const bench = benchOf(front, back, WISH, LIMITS);
  const all = exhaustive(bench);
  const polished = await polish(bench, all, unwatched());
  const cost = seams[0]?.cost ?? Infinity;
  console.log(
    `seam, drawn log ${log}: cost ${cost.toFixed(3)}, ${percent(cost, all.cost)} against every pair of a grid (to reach: 1 %), ${percent(cost, polished.cost)} against the best of that polished; ${(all.evaluated / evaluated).toFixed(0)} times fewer evaluations (to reach: 500 on the whole grid)`,
  );
}
