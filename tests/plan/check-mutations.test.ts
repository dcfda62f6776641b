import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyAll,
  crossingsAtX,
  difference,
  intersection,
  invert,
  type Point,
  type Polygon,
  type Region,
  rectangle,
} from '../../src/geometry';
import type { Job, Placement, Plan, Strip } from '../../src/job';
import { checkPlan } from '../../src/plan';
import { clearance, type LaidPlan, laidPlans } from '../support/laid-plans';
import { runs } from '../support/runs';

/**
 * Mutation, both ways: sound plans, laid without the search, are spoilt in one thing by a little more than is allowed and must be caught by the
 * rule's name; spoilt by a little less they must pass.
 */

const RUNS = { numRuns: runs(10) };

type Change = (job: Job, plan: Plan, laid: LaidPlan) => void;

function rulesBroken(laid: LaidPlan, change: Change): string[] {
  const [job, plan] = [structuredClone(laid.job), structuredClone(laid.plan)];
  change(job, plan, laid);
  return [...new Set(checkPlan(job, plan).faults.map(({ rule }) => rule))];
}

const placed = (plan: Plan, top: 'a' | 'b'): Placement => plan.placements[top] as Placement;
const strip = (plan: Plan, top: 'a' | 'b', i = 0): Strip => placed(plan, top).strips[i] as Strip;
const wanted = (job: Job, top: 'a' | 'b') => job.tops[top] as Job['tops'][string];
const faceOf = (job: Job, slab: string) =>
  job.flitches.log?.slabs[slab]?.faces.top as NonNullable<Job['flitches'][string]['slabs'][string]>['faces']['top'];
const toFace = (s: Strip, ring: Polygon<'top'>): Polygon<'face'> => applyAll(invert({ m: s.toTop }), ring);
const moved = (ring: Polygon<'face'>, [dx, dy]: Point<'face'>): Polygon<'face'> =>
  ring.map(([x, y]) => [x + dx, y + dy] as const);
const area = (ring: Polygon<'face'>): Region<'face'>[] => [{ outer: ring, holes: [] }];

/** Spoils what is given by more than is allowed, and by less. */
function bothWays(
  rule: string,
  change: (by: number) => Change,
  over: number,
  under: number,
  when?: (laid: LaidPlan) => boolean,
) {
  fc.assert(
    fc.property(
      laidPlans.filter((laid) => !when || when(laid)),
      (laid) => {
        expect(rulesBroken(laid, change(over))).toContain(rule);
        expect(rulesBroken(laid, change(under))).not.toContain(rule);
      },
    ),
    RUNS,
  );
}

const seamed = ({ plan }: LaidPlan): boolean => placed(plan, 'a').strips.length === 2;

describe('a sound plan', () => {
  it('passes, whatever the slab, the angle, the front and the seam', () => {
    fc.assert(
      fc.property(laidPlans, ({ job, plan }) => {
        expect(checkPlan(job, plan)).toEqual({ passed: true, faults: [] });
      }),
      { numRuns: runs(150) },
    );
  });
});

describe('a plan spoilt in one thing is caught by the name of the rule, and not before', () => {
  it('margin: a straight strip 0.2 mm too near the edge of the wood', () => {
    const straight = (laid: LaidPlan): boolean => wanted(laid.job, 'b').front === 'straight';
    bothWays(
      'margin',
      (by) => (job, plan, laid) => {
        const face = faceOf(job, 'one');
        face.outlineSigma = (clearance(strip(laid.plan, 'b').finished, face.outline as Region<'face'>) + by) / 2;
        Reflect.deleteProperty(plan.placements, 'a');
      },
      0.2,
      -0.2,
      straight,
    );
  });

  it('margin: the back of a live strip 0.2 mm too near', () => {
    const live = (laid: LaidPlan): boolean => wanted(laid.job, 'b').front === 'live';
    fc.assert(
      fc.property(laidPlans.filter(live), (laid) => {
        const broken = rulesBroken(laid, (job) => {
          const face = faceOf(job, 'one');
          const s = strip(laid.plan, 'b');
          const ys = applyAll<'face', 'top'>({ m: s.toTop }, s.finished).map(([, y]) => y);
          const [y, length] = [Math.max(...ys), wanted(job, 'b').length];
          const thin = toFace(s, rectangle(0, y - 0.1, length, y));
          face.outlineSigma = (clearance(thin, face.outline as Region<'face'>) + 0.2) / 2;
        });
        expect(broken).toContain('margin');
      }),
      RUNS,
    );
  });

  it('wood: the slab ends 0.2 mm before the strip does', () =>
    bothWays(
      'wood',
      (by) => (job, plan, laid) => {
        const face = faceOf(job, 'one');
        const s = strip(laid.plan, 'b');
        const left = area(toFace(s, rectangle(-1e5, -1e5, wanted(job, 'b').length - by, 1e5)));
        const ringOf = (ring: Polygon<'face'>): Polygon<'face'> =>
          (intersection(area(ring), left)[0] as Region<'face'>).outer;
        face.outline = { outer: ringOf((face.outline as Region<'face'>).outer), holes: [] };
        strip(plan, 'b').rough = ringOf(s.rough);
      },
      0.2,
      -0.2,
    ));

  it('live edge: a front sawn straight where the top wants the slab’s own', () => {
    fc.assert(
      fc.property(
        laidPlans.filter(({ job }) => wanted(job, 'b').front === 'straight'),
        (laid) => {
          expect(rulesBroken(laid, (job) => Object.assign(wanted(job, 'b'), { front: 'live' }))).toContain('live edge');
        },
      ),
      RUNS,
    );
  });

  it('depth: the band missed by 0.1 mm at either side', () => {
    bothWays(
      'depth',
      (by) => (job, _, laid) => {
        wanted(job, 'a').depth[0] = placed(laid.plan, 'a').depth[0] + by;
      },
      0.1,
      -0.1,
    );
    bothWays(
      'depth',
      (by) => (job, _, laid) => {
        wanted(job, 'a').depth[1] = placed(laid.plan, 'a').depth[1] - by;
      },
      0.1,
      -0.1,
    );
  });

  it('depth: short over a single millimetre of the front', () =>
    bothWays(
      'depth',
      (by) => (job, plan) => {
        const s = strip(plan, 'a');
        const ring = applyAll<'face', 'top'>({ m: s.toTop }, s.finished);
        const ys = crossingsAtX(ring, 301);
        const [front, back] = [ys[0] as number, Math.max(...ring.map(([, y]) => y))];
        // The notch leaves `by` less than the least depth that is wanted.
        const behind = placed(plan, 'a').depth[1] - back;
        const notch = back + behind - wanted(job, 'a').depth[0] + by;
        const cut = area(toFace(s, rectangle(300.5, front - 50, 301.5, notch)));
        s.finished = (difference(area(s.finished), cut)[0] as Region<'face'>).outer;
      },
      0.2,
      -0.2,
    ));

  it('length: 0.2 mm too long or too short', () => {
    for (const sign of [1, -1])
      bothWays(
        'length',
        (by) => (job) => {
          wanted(job, 'b').length += by;
        },
        sign * 0.2,
        sign * 0.02,
      );
  });

  it('joint: bent by 0.1 mm at its middle, into the strip or out of it', () => {
    for (const [side, sign] of [
      [0, 1],
      [0, -1],
      [1, 1],
      [1, -1],
    ] as const) {
      bothWays(
        'joint',
        (by) => (_, plan, laid) => {
          const s = strip(plan, 'a', side);
          const [middle] = toFace(s, [[wanted(laid.job, 'a').length / 2, laid.back + by]]) as [Point<'face'>];
          const at = s.finished.findIndex((p, i) => {
            const q = s.finished[(i + 1) % s.finished.length] as Point<'face'>;
            const ends = applyAll<'face', 'top'>({ m: s.toTop }, [p, q]);
            return ends.every(([, y]) => Math.abs(y - laid.back) < 0.01);
          });
          s.finished = [...s.finished.slice(0, at + 1), middle, ...s.finished.slice(at + 1)];
        },
        sign * 0.1,
        sign * 0.03,
        seamed,
      );
    }
  });

  it('joint: one side 0.2 mm longer than the other; lines 0.1 mm apart', () => {
    const line = (plan: Plan) => strip(plan, 'a', 1).jointFront as [Point<'face'>, Point<'face'>];
    bothWays(
      'joint',
      (by) => (_, plan) => {
        const [a, b] = line(plan);
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const end = [a[0] + ((b[0] - a[0]) * (length + by)) / length, a[1] + ((b[1] - a[1]) * (length + by)) / length];
        strip(plan, 'a', 1).jointFront = [a, end as unknown as Point<'face'>];
      },
      0.2,
      0.02,
      seamed,
    );
    bothWays(
      'joint',
      (by) => (_, plan) => {
        const [a, b, c, d, e, f] = strip(plan, 'a', 1).toTop;
        strip(plan, 'a', 1).toTop = [a, b, c, d, e, f + by];
      },
      0.1,
      0.02,
      seamed,
    );
  });

  it('overlap: the strip behind 1 mm over the one in front; a top 1 mm into its neighbour', () => {
    bothWays(
      'overlap',
      (by) => (_, plan) => {
        const [a, b, c, d, e, f] = strip(plan, 'a', 1).toTop;
        strip(plan, 'a', 1).toTop = [a, b, c, d, e, f - by];
      },
      1,
      -1,
      seamed,
    );
    bothWays(
      'overlap',
      (by) => (job, plan, laid) => {
        const s = strip(plan, 'b');
        const shift = laid.gap + 2 * job.shop.endAllowance + by;
        const along: Point<'face'> = [-shift * s.toTop[0], -shift * s.toTop[2]];
        s.finished = moved(s.finished, along);
        s.rough = moved(s.rough, along);
      },
      1,
      -1,
    );
  });

  it('kerf: 0.2 mm too little for the saw between two blanks', () =>
    bothWays(
      'kerf',
      (by) => (job, _, laid) => {
        job.shop.kerf.crosscut = laid.gap + by;
      },
      0.2,
      -0.2,
    ));

  it('allowance: 0.2 mm too little left over at an end, or along a straight edge', () => {
    bothWays(
      'allowance',
      (by) => (job) => {
        job.shop.endAllowance += by;
      },
      0.2,
      -0.2,
    );
    bothWays(
      'allowance',
      (by) => (job) => {
        job.shop.jointAllowance += by;
      },
      0.2,
      -0.2,
    );
  });

  it('defect: one that must be kept off touched by 0.2 mm, the doubt of the outline included; not where the top is covered', () => {
    const rot =
      (by: number, covered: boolean): Change =>
      (job, _, laid) => {
        const [s, face] = [strip(laid.plan, 'b'), faceOf(job, 'one')];
        const y = Math.max(...applyAll<'face', 'top'>({ m: s.toTop }, s.finished).map((p) => p[1]));
        const near = y + 2 * (face.outlineSigma as number) - by;
        face.defects.r = {
          id: 'r',
          kind: 'rot',
          permit: 'avoid',
          polygon: [...toFace(s, rectangle(100, near, 130, near + 20))],
        };
        if (covered) wanted(job, 'b').covered = { sink: { id: 'sink', polygon: rectangle(50, 0, 200, 1000) } };
      };
    bothWays('defect', (by) => rot(by, false), 0.2, -0.2);
    fc.assert(
      fc.property(laidPlans, (laid) => {
        expect(rulesBroken(laid, rot(15, true))).not.toContain('defect');
      }),
      RUNS,
    );
  });

  it('sapwood: held where none is wanted, by 0.2 mm', () =>
    bothWays(
      'sapwood',
      (by) => (job, _, laid) => {
        const [s, face] = [strip(laid.plan, 'b'), faceOf(job, 'one')];
        const length = wanted(job, 'b').length + 2 * (face.outlineSigma as number) - by;
        wanted(job, 'b').sapwood = 'not';
        face.sapwood = [toFace(s, rectangle(length, 0, length + 60, 1000))];
      },
      0.2,
      -0.2,
    ));

  it('strip, seams, thickness: a tenth of a millimetre, or a seam, too much', () => {
    bothWays(
      'strip',
      (by) => (job, plan, laid) => {
        const front = laid.back - (placed(plan, 'a').depth[1] - placed(plan, 'a').depth[0]);
        wanted(job, 'a').leastStrip = Math.min(front, placed(plan, 'a').depth[1] - laid.back) + by;
      },
      0.1,
      -0.1,
      seamed,
    );
    bothWays(
      'seams',
      (by) => (job) => {
        wanted(job, 'a').seams = 1 - by;
      },
      1,
      0,
      seamed,
    );
    bothWays(
      'thickness',
      (by) => (job, plan) => {
        wanted(job, 'b').thickness = (placed(plan, 'b').thickness as number) + by;
      },
      0.1,
      -0.1,
    );
  });

  it('map: stretched by a ten-thousandth, or mirrored', () => {
    bothWays(
      'map',
      (by) => (_, plan) => {
        const [a, b, c, d, e, f] = strip(plan, 'b').toTop;
        strip(plan, 'b').toTop = [a * (1 + by), b * (1 + by), c * (1 + by), d * (1 + by), e, f];
      },
      1e-4,
      0,
    );
    bothWays(
      'map',
      (way) => (_, plan) => {
        const [a, b, c, d, e, f] = strip(plan, 'b').toTop;
        strip(plan, 'b').toTop = [a, b, way * c, way * d, e, f];
      },
      -1,
      1,
    );
  });

  it('gone: a top that is no longer wanted, a slab without an outline', () => {
    fc.assert(
      fc.property(laidPlans, (laid) => {
        expect(rulesBroken(laid, (job) => Reflect.deleteProperty(job.tops, 'b'))).toContain('gone');
        expect(rulesBroken(laid, (job) => Object.assign(faceOf(job, 'one'), { outline: null }))).toContain('gone');
      }),
      RUNS,
    );
  });
});
