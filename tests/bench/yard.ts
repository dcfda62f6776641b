import loadHighs from 'highs';
import { boundRack, jobWith, rankYard, type YardBound, type YardRanking } from '../../src/layout';
import { proposals, type YardLook, yardLook } from '../../src/plan';
import { unwatched, WorkBudget } from '../../src/search';
import { drawnRack } from '../support/drawn-rack';
import type { RackWish } from '../support/rack';

/**
 * Ranking what to buy: sixty photographed slabs and two tops until the ranking is settled, or as much work is done as two cores do in a minute; and
 * how much less work that is than laying out every set, with the same leader, where every set can be laid out.
 */

/** A minute on two cores, s of one core. */
const MINUTE = 120;
/** Seams of a set, as the app looks at them (workers/yard.worker.ts). */
const LOOK_WORK = 3_000;

const highs = await loadHighs();
const seconds = (): number => process.cpuUsage().user / 1e6;

async function rank(wish: RackWish, exhaustive: boolean, budget = new WorkBudget()) {
  const { job, pictureOf } = drawnRack(wish);
  const begun = seconds();
  const bounds = await boundRack(job, 'best', unwatched());
  const bounded = seconds() - begun;
  let [shapes, seams] = [0, 0];
  const look = async (bound: YardBound, pictured: boolean): Promise<YardLook> => {
    if (pictured) seams++;
    else shapes++;
    const pictures = new Map(
      pictured ? bound.slabs.map((key) => [`${key}/top`, pictureOf(`${key}/top`)] as const) : [],
    );
    const limited = unwatched(new WorkBudget(LOOK_WORK));
    const [plan] = await proposals(jobWith(job, bound.slabs), pictures, highs, limited);
    if (!plan) throw new Error('no plan');
    return yardLook(job, plan, 'best', bound.slabs, bound, pictured);
  };
  let leader = '';
  let ranking: YardRanking<YardLook> | null = null;
  if (exhaustive) {
    let best = -Infinity;
    for (const bound of bounds) {
      const { value } = await look(bound, true);
      if (value > best) [best, leader] = [value, bound.slabs.join(' + ')];
    }
  } else {
    ranking = await rankYard({ bounds, control: unwatched(budget), look });
    const first = ranking.entries
      .filter((one) => one.look)
      .sort((a, b) => (b.look?.value ?? 0) - (a.look?.value ?? 0))[0];
    leader = first?.bound.slabs.join(' + ') ?? 'none';
  }
  return { bounded, all: seconds() - begun, shapes, seams, sets: bounds.length, leader, ranking };
}

const end = seconds() + MINUTE;
const sixty = await rank({ slabs: 60, seed: 1 }, false, new WorkBudget(Infinity, () => seconds() > end));
console.log(
  `sixty slabs, two tops: ${sixty.sets} sets bounded in ${sixty.bounded.toFixed(1)} s, ${sixty.shapes} laid out by shape and ${sixty.seams} with their seams in ${sixty.all.toFixed(1)} s of one core (to reach: ${MINUTE}); ${sixty.ranking?.open} might still be better`,
);

const few: RackWish = {
  slabs: 5,
  seed: 4,
  tops: [{ name: 'Counter', length: 2000, depth: [560, 620], thickness: 34, seams: 1 }],
};
const [quick, every] = [await rank(few, false), await rank(few, true)];
console.log(
  `five slabs, one top: ${(every.all / quick.all).toFixed(1)} times less work than laying out all ${every.sets} sets; leader ${quick.leader === every.leader ? 'the same' : `${quick.leader}, not ${every.leader}`}`,
);
