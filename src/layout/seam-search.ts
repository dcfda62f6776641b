import { bounds, offset } from '../geometry';
import { type FaceFeatures, faceFeatures } from '../grain';
import { type Control, pause, stage } from '../search';
import { defectArea } from './defect-area';
import { climb, settle } from './seam-climb';
import { coarsePairs } from './seam-coarse';
import {
  benchOf,
  distinct,
  type FoundSeam,
  measuredSeams,
  offsetsDiffer,
  type SeamLimits,
  type SearchedSlab,
} from './seam-found';
import type { SeamOutput, SeamQuestion, SeamSlab } from './seam-io';
import { linePairs } from './seam-lines';
import type { Pair, Scored } from './seam-pair';
import { polish } from './seam-polish';
import type { SeamWish, SeamWood } from './seam-room';
import { wanderPairs } from './seam-wander';

/** So many good starts are climbed from, for each way the slabs may lie. */
const STARTS = 12;
/** So many pairs that the third sieve gives are measured in full to choose its starts. */
const MEASURED = 48;
/** So many different seams are polished and given. */
const GIVEN = 8;
/** Seams differ when an offset differs by this, mm, or when a slab is turned. */
const DIFFERENT = 25;
/** Where an outline carries no ± of its own, straight edges keep this far inside it, mm. */
const MARGIN = 2;

const differs = (a: Pair, b: Pair): boolean => offsetsDiffer(a, b, DIFFERENT);

const cheapest = (starts: readonly Scored[]): Scored[] => [...starts].sort((a, b) => a.cost - b.cost).slice(0, STARTS);

/**
 * Seams between two slabs, best first: both offsets and angles, the slide, end for end, and which edge of the front slab is the front.
 * Three sieves, each finding what the others pass over; then downhill from the best of each, then polished where the lines over both edges are sharpest. Deterministic; one unit of
 * the budget is one full evaluation.
 * @throws Cancelled
 */
export async function findSeams(
  front: SearchedSlab,
  back: SearchedSlab,
  wish: SeamWish,
  limits: SeamLimits,
  control: Control,
): Promise<{ seams: FoundSeam[]; evaluated: number }> {
  const bench = benchOf(front, back, wish, limits);
  const climbed: Scored[] = [];
  const quiet: Control = {
    ...control,
    budget: control.budget,
    progress: () => {},
    cancelled: () => control.cancelled(),
    breathe: () => control.breathe(),
  };
  const turns = limits.ends === 'either' ? ([1, -1] as const) : ([1] as const);
  for (const [i, turned] of turns.entries()) {
    const part = stage(control, (0.7 * i) / turns.length, (0.7 * (i + 1)) / turns.length);
    const starts: (() => Promise<Scored>)[] = [];
    const byLines = await linePairs(bench, turned, stage(part, 0, 0.3));
    for (const way of [1, -1] as const) {
      const kept = cheapest(byLines.filter(({ front: { way: one } }) => one === way));
      starts.push(...kept.map((start) => () => settle(bench, start, quiet)));
    }
    const followed = (await wanderPairs(bench, turned, stage(part, 0.3, 0.45))).slice(0, MEASURED);
    const done = bench.evaluated;
    const measured = followed.map((pair) => ({ ...pair, cost: bench.cost(pair) }));
    control.budget.spend(bench.evaluated - done);
    starts.push(...distinct(measured, STARTS, differs).map((start) => () => settle(bench, start, quiet)));
    for (const way of [1, -1] as const) {
      const ways = [way, turned === way ? 1 : -1] as const;
      const byLook = cheapest(
        await coarsePairs(bench, ways, stage(part, way === 1 ? 0.45 : 0.6, way === 1 ? 0.6 : 0.75)),
      );
      starts.push(...byLook.map((start) => () => climb(bench, start, quiet)));
    }
    for (const [k, start] of starts.entries()) {
      part.progress(0.75 + (0.25 * k) / starts.length);
      climbed.push(await start());
    }
  }
  const modes = distinct(climbed, GIVEN, differs);
  const polished: Scored[] = [];
  for (const [i, mode] of modes.entries()) {
    polished.push(
      await polish(bench, mode, stage(control, 0.7 + (0.3 * i) / modes.length, 0.7 + (0.3 * (i + 1)) / modes.length)),
    );
  }
  const seams = measuredSeams(distinct(polished, GIVEN, differs), front, back, wish.length);
  control.progress(1);
  return { seams, evaluated: bench.evaluated };
}

/**
 * The best seams between two rectified slabs (COMMANDS, `seam`). The slide is how far the second slab moves from where its own frame
 * puts it; end for end it is first turned about the middle of its outline.
 * @throws Cancelled
 */
export async function searchSeams(question: SeamQuestion, control: Control): Promise<SeamOutput> {
  const { slabs, top, kerf, leastStrip, slide, angle, ends } = question;
  await pause(control, 0, 'reading the wood');
  const features = faceFeatures(
    slabs.map(({ picture, outline, defects }) => ({ picture, outline: { outer: outline, holes: [] }, defects })),
    { kerf },
  );
  const { minX, maxX } = bounds(slabs[1].outline);
  const searched = (slab: SeamSlab, i: number): SearchedSlab => ({
    ...woodOf(slab),
    features: features[i] as FaceFeatures,
    middle: (minX + maxX) / 2,
  });
  const wish: SeamWish = { ...top, leastStrip, keepOff: 'line' };
  const limits = { slide, angle, ends };
  const { seams, evaluated } = await findSeams(
    searched(slabs[0], 0),
    searched(slabs[1], 1),
    wish,
    limits,
    stage(control, 0.1, 1),
  );
  return {
    seams: seams.map(({ front, back, ...figures }) => ({
      ...figures,
      joints: [
        { slab: slabs[0].id, ...front },
        { slab: slabs[1].id, ...back },
      ],
    })),
    evaluated,
  };
}

function woodOf({ outline, defects }: SeamSlab): SeamWood {
  const region = { outer: outline, holes: [] };
  const forbidden = defects
    .filter(({ permit }) => permit === undefined || permit === 'avoid')
    .flatMap((defect) => defectArea(defect, MARGIN));
  return { outline: region, inside: offset([region], -MARGIN), forbidden };
}
