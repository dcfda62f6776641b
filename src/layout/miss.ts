import { inOnePiece, type Job, type Miss, type Top } from '../job';
import { formatLength } from '../units';
import { deepest, longest, stripPlaces } from './columns';
import type { Candidate } from './placement';
import { offeredTo } from './sapwood';
import { type FaceStock, without } from './stock';

/** Depth that the stock can give a top in one piece, and with as many seams, two slabs or more. mm. */
export function depths(
  top: Top,
  stock: readonly FaceStock[],
  angle: number,
  avoidDefects: boolean,
  seams = Math.max(1, top.seams),
): { one: number; seamed: number } {
  const deep = (face: FaceStock, front: Top['front']) =>
    deepest(face, { length: top.length, front, angle }, avoidDefects);
  const first = stock.map((face) => deep(face, top.front));
  const behind = new Map<FaceStock['slab'], number>();
  for (const face of stock) behind.set(face.slab, Math.max(behind.get(face.slab) ?? 0, deep(face, 'straight')));
  const seamed = stock.map((face, i) => {
    const others = [...behind].filter(([slab, depth]) => slab !== face.slab && depth > 0).map(([, depth]) => depth);
    const most = others.sort((a, b) => b - a).slice(0, seams);
    return first[i] && most.length > 0 ? most.reduce((sum, depth) => sum + depth, first[i]) : 0;
  });
  return { one: Math.max(0, ...first), seamed: Math.max(0, ...seamed) };
}

/** What keeps a top from being seamed at all, in words; null where nothing does. */
function keptWhole(top: Top): string | null {
  if (!inOnePiece(top)) return null;
  if (top.ends.right.edge === 'live' || top.ends.left.edge === 'live') return 'a live end';
  return top.back === 'live' && top.front === 'straight' ? 'a live back behind a straight front' : 'such grain';
}

/**
 * Which limit keeps a top from being had, and by how much it misses. Asked when no sound place was found that is thick enough; `thin` are the sound
 * places that finish too thin.
 */
export function whyNot(top: Top, stock: readonly FaceStock[], thin: readonly Candidate[], job: Job): Miss {
  const say = (mm: number): string => formatLength(mm, job.units);
  const miss = (limit: Miss['limit'], by: number, message: string): Miss => ({
    top: top.id,
    limit,
    by: Math.max(0, by),
    message,
  });
  const thickest = Math.max(...thin.map(({ placement }) => placement.thickness ?? -Infinity));
  if (Number.isFinite(thickest)) {
    const by = top.thickness - thickest;
    return miss(
      'thickness',
      by,
      `${top.name}: the best place finishes at ${say(thickest)}, ${say(by)} too thin. A shorter top, a thicker slab or a thinner top would do.`,
    );
  }
  if (stock.length === 0) {
    return miss('stock', 0, `${top.name}: no slab has an outline yet. Add a photo of a slab, or draw its outline.`);
  }
  const angle = job.shop.seam.angle;
  const reach = Math.max(...stock.map(longest));
  if (reach < top.length) {
    const by = top.length - reach;
    return miss(
      'length',
      by,
      `${top.name}: the longest slab gives ${say(reach)}, ${say(by)} less than the ${say(top.length)} wanted.`,
    );
  }
  const least = top.depth[0];
  const bare = depths(top, stock, angle, false);
  const best = top.seams > 0 ? Math.max(bare.one, bare.seamed) : bare.one;
  if (best < least) {
    const whole = keptWhole(top);
    if (whole !== null && bare.seamed >= least) {
      return miss(
        'seams',
        least - bare.one,
        `${top.name}: one slab gives a depth of ${say(bare.one)}, ${say(least - bare.one)} too little, and a top with ${whole} is cut from one piece only. Without that, two slabs with a seam between them would give ${say(bare.seamed)}.`,
      );
    }
    if (top.seams === 0 && bare.seamed >= least) {
      return miss(
        'seams',
        least - bare.one,
        `${top.name}: one slab gives a depth of ${say(bare.one)}, ${say(least - bare.one)} too little; with one seam two slabs would give ${say(bare.seamed)}.`,
      );
    }
    const more = top.seams > 0 && top.seams < 4 ? depths(top, stock, angle, false, top.seams + 1).seamed : 0;
    if (more >= least) {
      return miss(
        'seams',
        least - best,
        `${top.name}: with ${top.seams === 1 ? 'one seam' : `${top.seams} seams`} these slabs give a depth of ${say(best)}, ${say(least - best)} too little; one seam more would give ${say(more)}.`,
      );
    }
    return miss(
      'depth',
      least - best,
      `${top.name}: the deepest that these slabs give over that length is ${say(best)}, ${say(least - best)} less than wanted.`,
    );
  }
  const clearOf = (faces: readonly FaceStock[]): number => {
    const { one, seamed } = depths(top, faces, angle, true);
    return top.seams > 0 ? Math.max(one, seamed) : one;
  };
  const bestClear = clearOf(stock);
  if (bestClear < least) {
    const far = stock.flatMap(({ keptOff }) => keptOff.filter(({ why }) => why === 'far defect'));
    const ownOnly = far.length > 0 ? clearOf(stock.map((face) => without(face, 'far defect'))) : 0;
    return miss(
      'defect',
      least - bestClear,
      [
        `${top.name}: defects that must be kept off leave a depth of ${say(bestClear)}, ${say(least - bestClear)} too little.`,
        ...(ownOnly >= least
          ? [
              `It would be had but for ${far.map(({ name }) => name).join('; ')}: see how deep that goes, and say so under Stock.`,
            ]
          : ['Allow one of them, or plan a key on a crack.']),
      ].join(' '),
    );
  }
  const bestHeart = clearOf(stock.map((face) => offeredTo(top, face)));
  if (bestHeart < least) {
    return miss(
      'sapwood',
      least - bestHeart,
      [
        bestHeart > 0
          ? `${top.name}: without sapwood these slabs give a depth of ${say(bestHeart)}, ${say(least - bestHeart)} too little.`
          : `${top.name}: no slab gives it without sapwood.`,
        top.front === 'live'
          ? 'A live edge is where sapwood lies: let it show, or ask for a straight front.'
          : 'Let sapwood show, or ask for less depth.',
      ].join(' '),
    );
  }
  const band = top.depth[1] - least;
  if (top.front === 'live') {
    const wide = { length: top.length, depth: [0, 1e5] as const, front: 'live' as const, angle };
    const swings = stock.flatMap((s) => stripPlaces(s, wide).map(({ depth }) => depth[1] - depth[0]));
    const calmest = Math.min(...swings);
    if (calmest > band) {
      return miss(
        'depth',
        calmest - band,
        `${top.name}: the calmest live edge swings by ${say(calmest)} over that length; the depths wanted allow ${say(band)}. Widen them by ${say(calmest - band)}.`,
      );
    }
  }
  return miss(
    'stock',
    0,
    `${top.name}: no place was found that keeps every limit at once. Widen the depths, shorten the top or allow a defect.`,
  );
}
