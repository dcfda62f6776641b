import fc from 'fast-check';
import loadHighs from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Job, Plan, Strip } from '../../src/job';
import { groundOf, type ProposeOptions, proposePlans, type SeamSearch, seamTask } from '../../src/layout';
import { chanceOfFit, normalShare } from '../../src/layout/chance';
import { bestChoice, Conflicts, type Option } from '../../src/layout/choose';
import { nonDominated } from '../../src/layout/front';
import { onePieces } from '../../src/layout/own-places';
import { slabsOf, type Valuer, valuer } from '../../src/layout/worth';
import { checkPlan, proposals } from '../../src/plan';
import { Cancelled, type Highs, unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

const SLABS = [
  { length: 2500, width: 470, swing: 8 },
  { length: 2450, width: 490, swing: 10 },
  { length: 2400, width: 460, swing: 6 },
];

/** A job of two tops on three slabs without pictures. */
function twoTops(): Job {
  const job = wavyJob(SLABS, { length: 1500, depth: [600, 650] });
  const shelf = { ...(job.tops.counter as Job['tops'][string]), id: 'shelf', name: 'Shelf', length: 900 };
  return { ...job, tops: { ...job.tops, shelf: { ...shelf, depth: [300, 380], seams: 0 } } };
}

const propose = (job: Job, options?: ProposeOptions) => proposePlans(job, new Map(), highs, unwatched(), options);

describe('the choice among places', () => {
  /** Places of one piece of three tops on two slabs: many get into each other's way. */
  const made = () => {
    const job = wavyJob(SLABS.slice(0, 2), { length: 1100, depth: [380, 440], seams: 0 });
    const counter = job.tops.counter as Job['tops'][string];
    job.tops.a = { ...counter, id: 'a', length: 900 };
    job.tops.b = { ...counter, id: 'b', length: 1300 };
    return { job, ground: groundOf(job, new Map()) };
  };

  it('is worth as much as the best of all sets that can be sawn, each slab paid for once', () => {
    const { job, ground } = made();
    const found = Object.values(job.tops).map((top) => onePieces(top, 1, ground, [], 8).fit);
    const conflicts = new Conflicts(job);
    const weight = fc.double({ min: 0, max: 4, noNaN: true });
    const weights = fc.record({
      yield: weight,
      blend: weight,
      defects: weight,
      spare: weight,
      cost: weight,
      offcuts: weight,
    });
    const pick = fc.uniqueArray(fc.nat(30), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(weights, fc.tuple(pick, pick, pick), (by, picks) => {
        const values = valuer(ground.stock, Object.values(job.tops), by);
        const options: Option[] = picks.flatMap((indices, i) => {
          const own = found[i] ?? [];
          return [...new Set(indices.map((k) => k % own.length))].flatMap((k) => (own[k] ? [[own[k]]] : []));
        });
        let best = 0;
        for (let bits = 0; bits < 1 << options.length; bits++) {
          const chosen = options.filter((_, i) => bits & (1 << i));
          const places = chosen.flat();
          if (new Set(places.map(({ top }) => top.id)).size < places.length) continue;
          if (chosen.some((a, i) => chosen.slice(i + 1).some((b) => conflicts.between(a, b)))) continue;
          const paid = slabsOf(places.flatMap(({ stock }) => stock)).reduce(
            (sum, face) => sum + values.charge(face),
            0,
          );
          best = Math.max(best, places.reduce((sum, place) => sum + values.value(place), 0) - paid);
        }
        const choice = bestChoice(highs, options, values, conflicts, []);
        expect(choice.value).toBeCloseTo(best, 6);
        expect(choice.gap).toBe(0);
      }),
      { numRuns: runs(12) },
    );
  });

  it('gives the counter, and not two shelves that take its wood, though they are more', async () => {
    // The slab is as long as the counter, or as both shelves one after the other.
    const job = wavyJob([{ length: 2300, width: 480, swing: 4 }], { length: 2200, depth: [400, 440], seams: 0 });
    const counter = job.tops.counter as Job['tops'][string];
    for (const id of ['left', 'right'])
      job.tops[id] = { ...counter, id, name: id, front: 'straight', length: 700, depth: [250, 250] };
    const [plan] = await propose(job);
    expect(Object.keys(plan?.placements ?? {})).toEqual(['counter']);
    expect(plan?.misses.map(({ top }) => top).sort()).toEqual(['left', 'right']);
  });

  it('places a top whatever the weights: none of them outweighs having it', async () => {
    const job = twoTops();
    job.shop.weights = { yield: 4, blend: 0, defects: 4, spare: 0, cost: 4, offcuts: 4 };
    const [plan] = await propose(job);
    expect(Object.keys(plan?.placements ?? {}).sort()).toEqual(['counter', 'shelf']);
  });

  it('leaves wood in pieces that can be kept rather than in slivers, as much as that counts', () => {
    // A slab 120 mm wider than the top: all of it left on one side can be kept, half on either side cannot.
    const job = wavyJob([{ length: 1500, width: 520, swing: 0 }], {
      length: 1400,
      depth: [400, 400],
      front: 'straight',
    });
    const ground = groundOf(job, new Map());
    const places = onePieces(job.tops.counter as Job['tops'][string], 1, ground, [], 12).fit;
    const weights = { yield: 0, blend: 0, defects: 0, spare: 0, cost: 0, offcuts: 0 };
    const [blind, seeing] = [0, 1].map((offcuts) =>
      valuer(ground.stock, Object.values(job.tops), { ...weights, offcuts }),
    ) as [Valuer, Valuer];
    const besideOf = (place: (typeof places)[number]) => {
      const ys = place.placement.strips.flatMap(({ rough }) => rough.map(([, y]) => y));
      return [Math.min(...ys), 520 - Math.max(...ys)] as const;
    };
    const aside = places.find((place) => Math.max(...besideOf(place)) > 70);
    const middle = places.find((place) => Math.abs(besideOf(place)[0] - besideOf(place)[1]) < 5);
    if (!aside || !middle) throw new Error('no place');
    const sliver = (besideOf(middle)[0] + besideOf(middle)[1]) * 1400;
    const less = seeing.traits(middle).slivers - seeing.traits(aside).slivers;
    expect(less).toBeGreaterThan(0.7 * sliver);
    expect(seeing.traits(middle).slivers).toBeLessThan(1500 * 520 - 1400 * 400);
    const gain = seeing.value(aside) - blind.value(aside) - (seeing.value(middle) - blind.value(middle));
    // 100 for slivers as large as the one slab (ours, no source).
    expect(gain).toBeCloseTo((100 * less) / (1500 * 520), 3);
    for (const place of [aside, middle])
      expect(seeing.value(place)).toBeLessThanOrEqual(seeing.most(place.top, ground.stock));
  });

  it('opens a dear slab only when its price does not count', async () => {
    const job = wavyJob(
      [
        { length: 1600, width: 480, swing: 5 },
        { length: 1600, width: 480, swing: 5, thickness: 53 },
      ],
      { length: 1200, depth: [400, 460], seams: 0 },
    );
    const dear = job.flitches.log?.slabs['slab-2'];
    if (dear) dear.price = 900;
    const slabOf = async (cost: number) => {
      job.shop.weights = { yield: 1, blend: 1, defects: 1, spare: 4, cost, offcuts: 1 };
      job.tops.counter = { ...(job.tops.counter as Job['tops'][string]), thickness: 43 };
      const [plan] = await propose(job);
      return plan?.placements.counter?.strips[0]?.slab;
    };
    expect(await slabOf(0)).toBe('slab-2');
    expect(await slabOf(4)).toBe('slab-1');
  });
});

describe('places that no other outdoes', () => {
  it('hold the best by any sum of the figures, and none that is outdone', () => {
    const figures = fc.array(fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 5 })), {
      minLength: 1,
    });
    fc.assert(
      fc.property(figures, fc.nat(9), fc.nat(9), (items, a, b) => {
        const front = nonDominated(items, (item) => item);
        const sum = ([x, y]: readonly [number, number]) => a * x + b * y;
        expect(Math.max(...front.map(sum))).toBe(Math.max(...items.map(sum)));
        for (const [x, y] of front) expect(items.some(([p, q]) => p >= x && q >= y && (p > x || q > y))).toBe(false);
      }),
    );
  });
});

describe('the chance that a place fits', () => {
  it('is that of the normal distribution (published: 0.8413 at one sigma, 0.9772 at two)', () => {
    expect(normalShare(1)).toBeCloseTo(0.8413, 4);
    expect(normalShare(2)).toBeCloseTo(0.9772, 4);
    expect(normalShare(-1)).toBeCloseTo(0.1587, 4);
    expect(normalShare(0)).toBeCloseTo(0.5, 6);
  });

  it('is less the less is known of the outlines, for one and the same place', () => {
    const job = wavyJob(SLABS.slice(0, 1), { length: 1500, depth: [380, 450], seams: 0 });
    const [place] = onePieces(job.tops.counter as Job['tops'][string], 1, groundOf(job, new Map()), [], 1).fit;
    if (!place) throw new Error('no place');
    const known = (sigma: number) => {
      const stock = place.stock.map((face) => ({ ...face, margin: 2 * sigma }));
      return chanceOfFit({ ...place, stock });
    };
    expect(known(0.5)).toBeGreaterThan(known(8));
    expect(known(8)).toBeGreaterThan(known(25));
    expect(known(0.5)).toBeLessThanOrEqual(1);
  });
});

describe('plans', () => {
  it('are the same whoever searches, in whatever order it is finished', async () => {
    const job = twoTops();
    const ground = groundOf(job, new Map());
    const backwards: SeamSearch = async (tasks, control) => {
      const found = [...tasks].reverse().map((task) => seamTask(task, ground, control));
      return (await Promise.all(found)).reverse();
    };
    expect(await propose(job, { search: backwards })).toEqual(await propose(job));
  });

  it('come as they are found, none worse than the one before, and what was found stays when the work is stopped', async () => {
    const job = twoTops();
    const heard: Plan[] = [];
    const whole = await propose(job, { heard: ([plan]) => plan && heard.push(plan) });
    expect(heard.length).toBeGreaterThan(0);
    const placed = heard.map(({ placements }) => Object.keys(placements).length);
    expect(placed).toEqual([...placed].sort((a, b) => a - b));
    let stopped = false;
    const control = { ...unwatched(), cancelled: () => stopped };
    const early = await proposePlans(job, new Map(), highs, control, {
      heard: () => {
        stopped = true;
      },
    });
    expect(Object.keys(early[0]?.placements ?? {})).toEqual(Object.keys(heard[0]?.placements ?? {}));
    expect(Object.keys(whole[0]?.placements ?? {})).toHaveLength(2);
    await expect(proposePlans(job, new Map(), highs, { ...unwatched(), cancelled: () => true })).rejects.toThrow(
      Cancelled,
    );
  });

  it('keep a locked place to the letter and lay the rest around it', async () => {
    const job = twoTops();
    const plans = await propose(job);
    const [plan] = plans;
    if (!plan) throw new Error('no plan');
    const locked: Job = {
      ...job,
      plans: { [plan.id]: plan },
      locks: { shelf: { id: 'shelf', plan: plan.id, top: 'shelf' } },
      tops: { ...job.tops, counter: { ...(job.tops.counter as Job['tops'][string]), length: 1700 } },
    };
    const again = await proposals(locked, new Map(), highs, unwatched());
    for (const one of again) {
      expect(one.placements.shelf).toEqual(plan.placements.shelf);
      expect(checkPlan(locked, one).faults).toEqual([]);
    }
    expect(again[0]?.placements.counter).toBeDefined();
  });

  it('leave out what a checker does not pass, and say so', async () => {
    const job = wavyJob(SLABS.slice(0, 1), { length: 1500, depth: [380, 450], seams: 0 });
    const check: ProposeOptions['check'] = ({ placements }) =>
      Object.keys(placements).map((top) => ({ where: `/placements/${top}`, message: 'It is not to be sawn.' }));
    const [plan] = await propose(job, { check });
    expect(plan?.placements).toEqual({});
    expect(plan?.misses[0]?.message).toMatch(/not to be sawn/);
  });

  it.runIf(process.env.SLOW)('never lay two blanks nearer than the saw is wide, on any slab', async () => {
    const lengths = fc.array(fc.integer({ min: 500, max: 1300 }), { minLength: 2, maxLength: 4 });
    await fc.assert(
      fc.asyncProperty(lengths, async (wanted) => {
        const job = wavyJob(SLABS, {});
        const counter = job.tops.counter as Job['tops'][string];
        job.tops = Object.fromEntries(
          wanted.map((length, i) => [`t${i}`, { ...counter, id: `t${i}`, length, depth: [190, 240], seams: 0 }]),
        );
        for (const plan of await proposals(job, new Map(), highs, unwatched())) {
          expect(checkPlan(job, plan).faults).toEqual([]);
          const strips: Strip[] = Object.values(plan.placements).flatMap((placement) => placement.strips);
          expect(strips).toHaveLength(wanted.length);
        }
      }),
      { numRuns: runs(4) },
    );
  });
});
