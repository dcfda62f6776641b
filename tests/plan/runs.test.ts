import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { bounds } from '../../src/geometry';
import { defaultTop, type Job, type Meeting } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { type PlanReport, planReport } from '../../src/plan';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

const highs = await loadHighs();

async function reportOf(
  meeting: Meeting,
  change: (job: Job) => void = () => {},
): Promise<{ job: Job; report: PlanReport }> {
  const top = {
    ...defaultTop('t'),
    length: 800,
    depth: [300, 300] as [number, number],
    thickness: 30,
    front: 'straight' as const,
  };
  const job: Job = {
    ...wavyJob([{ length: 2400, width: 420, swing: 4 }], {}),
    tops: { a: { ...top, id: 'a', name: 'Counter' }, b: { ...top, id: 'b', name: 'Leg' } },
    runs: { r: { id: 'r', name: 'Wall', tops: ['a', 'b'], meets: [meeting], from: 'anywhere' } },
  };
  change(job);
  const [plan] = await proposePlans(job, new Map(), highs, unwatched());
  if (!plan) throw new Error('There is a plan.');
  return { job, report: planReport(job, plan) };
}

describe('a board that is parted into the tops of a run', () => {
  it.each<[Meeting, number]>([
    ['grain carries on', 1],
    ['folds down', Math.SQRT2],
  ])('%s: is parted by one cut, last, as wide as the saw is on the face', async (meeting, wide) => {
    const { job, report } = await reportOf(meeting);
    const [slab] = report.slabs;
    if (!slab) throw new Error('It is cut from one slab.');
    const parting = slab.cuts.filter(({ reason }) => /parts it from the next piece/.test(reason));
    expect(parting).toHaveLength(1);
    expect(parting[0]?.kerf).toBeCloseTo(job.shop.kerf.crosscut * wide, 3);
    expect(parting[0]?.stage).toBe('fine');
    expect(/45°/.test(parting[0]?.reason ?? '')).toBe(meeting === 'folds down');
    // Crosscut to rough length at its outer ends only.
    const [from, to] = [0, 1]
      .map((i) => bounds(slab.blanks[i]?.rough ?? []))
      .map(({ minX, maxX }) => (minX + maxX) / 2);
    for (const { line } of slab.cuts.filter(({ kind }) => kind === 'crosscut'))
      expect((line[0][0] - (from ?? 0)) * (line[0][0] - (to ?? 0))).toBeGreaterThan(0);
    const { stock, parts, kerf, offcuts, waste } = slab.areas;
    expect(parts + kerf + offcuts + waste).toBeCloseTo(stock, 3);
    const steps = report.order.map(({ step }) => step);
    expect(steps.indexOf(meeting === 'folds down' ? 'Cut the fold' : 'Part the run')).toBeGreaterThan(
      steps.indexOf('Flatten again'),
    );
    expect(report.order.find(({ step }) => step === 'Crosscut')?.detail).toContain('Counter and Leg stay one board');
    expect(report.verdict.faults).toEqual([]);
  });
});

describe('what is said of a mitre', () => {
  it('is by how much it opens over a year: the change across the depth times the root of two', async () => {
    const { report } = await reportOf('mitre', (job) => {
      const ends = (side: 'left' | 'right') => {
        const top = side === 'left' ? job.tops.a : job.tops.b;
        if (top) top.ends = { ...top.ends, [side]: { ...top.ends[side], degrees: 135 } };
      };
      ends('left');
      ends('right');
    });
    const [said] = report.wood.meetings;
    expect(said?.heading).toContain('mitre');
    const season = report.wood.tops[0]?.fixing.season ?? 0;
    expect(season).toBeGreaterThan(0);
    const figures = [...(said?.words.join(' ') ?? '').matchAll(/(\d+\.\d)\smm/g)].map(([, mm]) => Number(mm));
    expect(figures[0]).toBeCloseTo(season, 1);
    expect(Math.abs((figures[1] ?? 0) - season * Math.SQRT2)).toBeLessThan(0.051);
    expect(report.order.map(({ step }) => step)).toContain('Fit the sections');
    expect(report.verdict.faults).toEqual([]);
  });
});

it('tops that only stand together ask for no joint', async () => {
  const { report } = await reportOf('apart');
  expect(report.wood.meetings).toEqual([]);
  expect(report.order.map(({ step }) => step)).not.toContain('Fit the sections');
});
