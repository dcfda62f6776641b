import * as v from 'valibot';
import { describe, expect, test } from 'vitest';
import { apply, invert, type Point, type Polygon, rectangle } from '../../src/geometry';
import { askedAs, type Job, type Plan } from '../../src/job';
import type { Key } from '../../src/keys';
import { fromFarFace } from '../../src/layout';
import { planDocument, planOutput, planReport, screwNotes, seamKeysAdded } from '../../src/plan';
import { wavyJob } from '../support/wavy-slabs';

/** A top of two strips of 200, each from the middle of a slab of its own, laid out by hand. */
const [LENGTH, STRIP] = [1600, 200];

function jointed(seamKeys?: boolean): { job: Job; plan: Plan } {
  const shape = { length: 2000, width: 360, swing: 4, thickness: 54 };
  const job = wavyJob([shape, shape], {
    length: LENGTH,
    depth: [2 * STRIP, 2 * STRIP],
    front: 'straight',
    thickness: 38,
    seams: 1,
    ...(seamKeys === undefined ? {} : { seamKeys }),
  });
  const [x, y] = [200, 80];
  const finished = rectangle<'face'>(x, y, x + LENGTH, y + STRIP);
  const rough = rectangle<'face'>(x - 20, y - 10, x + LENGTH + 20, y + STRIP + 10);
  const line = (at: number) => [[x, at] as Point<'face'>, [x + LENGTH, at] as Point<'face'>] as const;
  const strips = [0, 1].map((i) => ({
    flitch: 'log',
    slab: `slab-${i + 1}`,
    face: 'top' as const,
    toTop: [1, 0, 0, 1, -x, i * STRIP - y] as [number, number, number, number, number, number],
    finished: finished as Polygon<'face'>,
    rough: rough as Polygon<'face'>,
    jointFront: i === 0 ? null : line(y),
    jointBack: i === 0 ? line(y + STRIP) : null,
  }));
  const placement = {
    top: 'counter',
    strips,
    joints: [{ blend: null, lines: null, slide: 0, flipped: false }],
    depth: [2 * STRIP, 2 * STRIP] as [number, number],
    thickness: 38,
  };
  const plan: Plan = {
    id: 'plan-1',
    name: 'Plan 1',
    placements: { counter: placement },
    misses: [],
    waste: 0,
    cost: null,
    gap: 0,
  };
  return { job, plan };
}

const topOf = ({ job, plan }: { job: Job; plan: Plan }) => planReport(job, plan).tops[0]!;

describe('keys over a seam', () => {
  test('come where the job wishes for them: square to it, waist on it, and counted as holding nothing', () => {
    const { job, plan } = jointed(true);
    const report = planReport(job, plan);
    const [top] = report.tops;
    expect(top!.cracks.map(({ mark, short, seam }) => [mark, short, seam])).toEqual([['S1', 'seam', true]]);
    expect(top!.keys.length).toBeGreaterThan(4);
    for (const { at, angle, face } of top!.keys) {
      expect(at[1]).toBeCloseTo(STRIP, 3);
      expect(Math.abs(angle)).toBeCloseTo(90, 3);
      expect(face).toBe('top');
    }
    expect(top!.hold.keys).toBe(0);
    expect(top!.keyWork!.cracks.map(({ fill }) => fill)).toEqual([null]);
    const document = planDocument(report, []);
    expect(v.safeParse(planOutput, document).issues).toBeUndefined();
    expect(document.placements[0]!.cracks).toEqual([]);
    expect(new Set(document.keys.map(({ crack }) => crack))).toEqual(new Set(['seam-1']));
  });

  test('come where keys were set by hand before the wish, and once only', () => {
    const { job, plan } = jointed(true);
    const placement = plan.placements.counter!;
    const added = seamKeysAdded(job, { ...plan, placements: { counter: { ...placement, keys: [] } } });
    const keys = added.get('counter')!;
    expect(keys.length).toBe(topOf({ job, plan }).keys.length);
    expect(new Set(keys.map(({ crack }) => crack))).toEqual(new Set(['seam-1']));
    expect(seamKeysAdded(job, { ...plan, placements: { counter: { ...placement, keys } } }).size).toBe(0);
    expect(seamKeysAdded(job, plan).size).toBe(0);
  });

  test('come nowhere else', () => {
    for (const wish of [false, undefined]) expect(topOf(jointed(wish)).keys).toEqual([]);
  });

  test('are wished for of all tops that are asked for alike', () => {
    const { job } = jointed();
    job.tops.counter!.count = 3;
    expect(askedAs(job, 'counter-3')).toBe(job.tops.counter);
    expect(askedAs(job, 'counter-4')).toBeUndefined();
  });
});

describe('a crack that was traced on both faces', () => {
  /** Along the first slab, about the middle of its strip; below it leans by so much. */
  const crackAt = (lean: number): [number, number, number][] => [
    [700, 180 + lean, 1],
    [1000, 190 + lean, 4],
    [1300, 184 + lean, 1],
  ];

  function cracked(below: { through?: boolean }, above: { through?: boolean }, tied = true) {
    const made = jointed();
    const slab = made.job.flitches.log!.slabs['slab-1']!;
    // The lower face as it is seen turned over: mirrored, and shifted by its own corner.
    const tie = {
      top: [
        [300, 100],
        [1700, 100],
      ],
      bottom: [
        [290, 300],
        [1690, 300],
      ],
    } as NonNullable<typeof slab.tie>;
    if (tied) slab.tie = tie;
    const toBottom = invert(fromFarFace(tie));
    const far = crackAt(9).map(([x, y, w]) => [...apply(toBottom, [x, y]), w] as [number, number, number]);
    slab.faces.top.defects.d1 = { id: 'd1', kind: 'crack', permit: 'keyed', line: crackAt(0), ...above };
    slab.faces.bottom.defects.d1 = { id: 'd1', kind: 'crack', permit: 'keyed', line: far, ...below };
    return topOf(made);
  }

  test('is one crack, and its keys from below stand on its trace there', () => {
    for (const [below, above] of [
      [{ through: true }, {}],
      [{}, { through: true }],
    ] as const) {
      const { cracks, keys, keyWork } = cracked(below, above);
      expect(cracks).toHaveLength(1);
      const [{ line, far, through }] = cracks as [(typeof cracks)[number]];
      expect(through).toBe(true);
      for (const [i, [, y]] of line.entries()) expect(far![i]![1]).toBeCloseTo(y + 9, 6);
      const offOf = (face: string) =>
        keys.filter((key) => key.face === face).map(({ at: [x, y] }) => y - heightAt(line, x));
      expect(offOf('top').length).toBeGreaterThan(2);
      expect(offOf('bottom').length).toBeGreaterThan(2);
      for (const off of offOf('top')) expect(off).toBeCloseTo(0, 6);
      for (const off of offOf('bottom')) expect(off).toBeCloseTo(9, 6);
      // Those below are measured from the tips below.
      keys.forEach(({ face, at }, i) => {
        const [a] = face === 'bottom' ? keyWork!.cracks[0]!.under! : keyWork!.cracks[0]!.tips;
        expect(keyWork!.marks[i]!.tips.tapes[0]).toBeCloseTo(Math.hypot(at[0] - a[0], at[1] - a[1]), 6);
      });
    }
  });

  test('has keys from above alone where nobody says that it goes through, and one trace where the faces are not tied', () => {
    expect(cracked({}, {}).keys.map(({ face }) => face)).not.toContain('bottom');
    const { cracks, keys } = cracked({}, { through: true }, false);
    expect(cracks.map(({ far }) => far)).toEqual([null]);
    const [above, below] = ['top', 'bottom'].map((face) => keys.filter((key) => key.face === face).map(({ at }) => at));
    expect(below).toEqual(above);
  });
});

/** Height of a line that runs along x. */
function heightAt(line: readonly (readonly [number, number, number])[], x: number): number {
  const i = line.findIndex(([px], k) => k > 0 && (px - x) * (line[k - 1]![0] - x) <= 0);
  const [[ax, ay], [bx, by]] = [line[i - 1]!, line[i]!];
  return ay + ((by - ay) * (x - ax)) / (bx - ax);
}

describe('screws that fix the top', () => {
  test('are told of each key that they come under, or meet in the under face, by their own places', () => {
    const made = jointed();
    const top = topOf(made);
    // 1600 long: five screws a row, 375 apart from 50; rows 50 from front and back.
    const lies = (x: number, y: number, face: 'top' | 'bottom') =>
      ({ face, under: 24, outline: rectangle<'top'>(x - 20, y - 35, x + 20, y + 35) }) as unknown as Key;
    const notes = (keys: Key[]) => screwNotes(made.job, { ...top, keys });
    expect(notes([lies(237, 50, 'top'), lies(425, 120, 'top')])).toEqual([]);
    const [above, below] = notes([lies(425, 70, 'top'), lies(237, 50, 'bottom'), lies(1175, 340, 'bottom')]);
    expect(above).toContain(
      'come under K1 (1175\u00a0mm from the left, 50\u00a0mm from the front: 24\u00a0mm of wood left)',
    );
    expect(below).toContain('would meet K3 (425\u00a0mm from the left, 350\u00a0mm from the front)');
    expect(below).not.toContain('K2');
  });
});
