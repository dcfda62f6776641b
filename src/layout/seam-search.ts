import { bounds, offset } from '../geometry';
import { type FaceFeatures, faceFeatures, type JointLine, scoreJoint } from '../grain';
import { type Control, pause, stage } from '../search';
import { defectArea } from './defect-area';
import { approach, polish, settle } from './seam-climb';
import { coarsePairs } from './seam-coarse';
import type { SeamOutput, SeamQuestion, SeamSlab } from './seam-io';
import { type Pair, type Scored, SeamBench, type SeamSide, slideOf } from './seam-pair';
import { lineAt, SeamRoom, type SeamWish, type SeamWood } from './seam-room';
import { wanderPairs } from './seam-wander';

/** Of what a sieve gives so many are measured in full, so many of those looked about, and so many of all then followed to the best near them. */
const MEASURED = 100;
const STARTS = 16;
const SETTLED = 16;
const WAYS = [1, -1] as const;
/** So many different seams are polished and given. */
const GIVEN = 8;
/** Seams differ when an offset differs by this, mm, or when a slab is turned. */
const DIFFERENT = 25;
/** Where an outline carries no ± of its own, straight edges keep this far inside it, mm. */
const MARGIN = 2;

/** A seam found between two faces that were prepared together. */
export interface FoundSeam {
  readonly front: JointLine;
  readonly back: JointLine;
  readonly blend: number;
  readonly lines: number;
  readonly cost: number;
  readonly slide: number;
  readonly flipped: boolean;
}

/** A slab of a search, with features that were prepared together with the other's. */
export interface SearchedSlab extends SeamWood {
  readonly features: FaceFeatures;
  /** x from which the slide is counted. */
  readonly middle: number;
}

/** Limits of a search. */
export interface SeamLimits {
  readonly slide: number;
  /** Each joint's angle against x, degrees. */
  readonly angle: number;
  readonly ends: 'same' | 'either';
}

const differs = (a: Pair, b: Pair): boolean =>
  a.front.way !== b.front.way ||
  a.back.way !== b.back.way ||
  Math.abs(a.front.y - b.front.y) >= DIFFERENT ||
  Math.abs(a.back.y - b.back.y) >= DIFFERENT;

/** The cheapest, each different from all cheaper ones. */
function distinct(found: readonly Scored[], most: number): Scored[] {
  const kept: Scored[] = [];
  const ranked = found.filter(({ cost }) => Number.isFinite(cost)).sort((a, b) => a.cost - b.cost);
  for (const one of ranked) {
    if (kept.length === most) break;
    if (kept.every((other) => differs(one, other))) kept.push(one);
  }
  return kept;
}

const cheapest = (pairs: readonly Scored[], most: number): Scored[] =>
  [...pairs].sort((a, b) => a.cost - b.cost).slice(0, most);

/**
 * Seams between two slabs, best first: both offsets and angles, the slide, end for end, and which edge of the front slab is the front.
 * Two sieves, one by the broad look and one by lines that can be followed; then downhill from the best of both, all freedoms at once, and polished where
 * the lines over both edges are sharpest. Deterministic; one unit of the budget is one full evaluation.
 * @throws Cancelled
 */
export async function findSeams(
  front: SearchedSlab,
  back: SearchedSlab,
  wish: SeamWish,
  limits: SeamLimits,
  control: Control,
): Promise<{ seams: FoundSeam[]; evaluated: number }> {
  const side = (slab: SearchedSlab): SeamSide => ({
    features: slab.features,
    middle: slab.middle,
    room: new SeamRoom(slab, wish),
  });
  const bench = new SeamBench(side(front), side(back), { slide: limits.slide, degrees: limits.angle });
  const quiet: Control = { ...control, budget: control.budget, progress: () => {} };
  /** The best of many by their full cost. */
  const measured = (pairs: readonly Pair[]): Scored[] => {
    const done = bench.evaluated;
    const costs = pairs.map((pair) => ({ ...pair, cost: bench.cost(pair) }));
    control.budget.spend(bench.evaluated - done);
    return distinct(costs, STARTS);
  };
  const turns = limits.ends === 'either' ? ([1, -1] as const) : ([1] as const);
  const near: Scored[] = [];
  for (const [i, turned] of turns.entries()) {
    const part = stage(control, (0.6 * i) / turns.length, (0.6 * (i + 1)) / turns.length);
    const followed = await wanderPairs(bench, turned, stage(part, 0, 0.3));
    const starts = measured(followed.slice(0, MEASURED));
    for (const way of WAYS) {
      const ways = [way, turned === way ? 1 : -1] as const;
      const share = stage(part, way === 1 ? 0.3 : 0.5, way === 1 ? 0.5 : 0.7);
      starts.push(...measured(cheapest(await coarsePairs(bench, ways, share), MEASURED)));
    }
    for (const [k, start] of starts.entries()) {
      part.progress(0.7 + (0.3 * k) / starts.length);
      near.push(await approach(bench, start, quiet));
    }
  }
  const climbed: Scored[] = [];
  for (const start of distinct(near, SETTLED)) climbed.push(await settle(bench, start, quiet));
  const modes = distinct(climbed, GIVEN);
  const polished: Scored[] = [];
  for (const [i, mode] of modes.entries()) {
    polished.push(
      await polish(
        bench,
        mode,
        stage(control, 0.75 + (0.25 * i) / modes.length, 0.75 + (0.25 * (i + 1)) / modes.length),
      ),
    );
  }
  const seams = distinct(polished, GIVEN).map((pair): FoundSeam => {
    const inFront: JointLine = { line: lineAt(pair.front, wish.length), keeps: 'right' };
    const behind: JointLine = { line: lineAt(pair.back, wish.length), keeps: 'left' };
    const { blend, lines, cost } = scoreJoint(front.features, inFront, back.features, behind);
    const slide = slideOf(pair, [front.middle, back.middle]);
    return { front: inFront, back: behind, blend, lines, cost, slide, flipped: pair.front.way !== pair.back.way };
  });
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
