import loadHighs from 'highs';
import { beforeAll, describe, expect, test } from 'vitest';
import { cuttingMap } from '../../src/cutmap';
import { applyAll, bounds, type Point } from '../../src/geometry';
import { type Defect, type Face, type Job, NOT_CONFIRMED, type Plan } from '../../src/job';
import { fromFarFace, proposePlans } from '../../src/layout';
import { planReport } from '../../src/plan';
import { unwatched } from '../../src/search';
import { typeface } from '../cutmap/invented';
import { wavyJob } from '../support/wavy-slabs';

/** Cracks that a photo proposed, that somebody confirmed, that were dropped, and that only the other face shows. */
let sound: Job;
let plan: Plan;
/** A crack along the middle of the planned strip, on the slab's upper face. */
let line: NonNullable<Defect['line']>;

/** The slab turned over about its long axis. */
const tie = {
  top: [
    [100, 100],
    [2500, 100],
  ],
  bottom: [
    [100, 380],
    [2500, 380],
  ],
} as NonNullable<Job['flitches'][string]['slabs'][string]['tie']>;

beforeAll(async () => {
  sound = wavyJob([{ length: 2600, width: 480, swing: 6, thickness: 54 }], {
    length: 1800,
    depth: [360, 400],
    front: 'straight',
    thickness: 38,
    seams: 0,
  });
  const [best] = await proposePlans(sound, new Map(), await loadHighs(), unwatched());
  plan = best as Plan;
  const [strip] = plan.placements.counter?.strips ?? [];
  const { minX, maxX, minY, maxY } = bounds(strip?.finished ?? []);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  line = [
    [x - 250, y, 1],
    [x, y + 3, 4],
    [x + 250, y, 1],
  ];
});

const crack = (given: Partial<Defect>): Defect => ({ id: 'd1', kind: 'crack', permit: 'keyed', line, ...given });

/** The crack as the underside shows it. */
const below = (given: Partial<Defect>): Defect => {
  const down = fromFarFace({ top: tie.bottom, bottom: tie.top } as unknown as typeof tie);
  const places = applyAll<'face', 'face'>(
    down,
    line.map(([x, y]): Point<'face'> => [x, y]),
  );
  return crack({ ...given, line: places.map(([x, y], i): [number, number, number] => [x, y, line[i]?.[2] ?? 0]) });
};

function jobWith(faces: { readonly [name in 'top' | 'bottom']?: readonly Defect[] }): Job {
  const job = structuredClone(sound);
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.tie = structuredClone(tie);
  for (const side of ['top', 'bottom'] as const) {
    const face: Face = slab.faces[side];
    face.defects = Object.fromEntries((faces[side] ?? []).map((defect) => [defect.id, structuredClone(defect)]));
  }
  return job;
}

const reportOf = (job: Job) => planReport(job, plan);
const sent = (job: Job) => reportOf(job).order.map(({ step, detail }) => `${step}: ${detail}`);

async function mapWords(job: Job): Promise<string> {
  const { sheets } = cuttingMap({
    report: reportOf(job),
    job,
    paper: 'A4',
    typeface: await typeface(),
    faces: new Map(),
    tops: new Map(),
  });
  const elements = sheets.flatMap(({ groups }) => groups.flatMap((group) => group.elements));
  return elements.flatMap((element) => (element.is === 'text' ? [element.text] : [])).join(' ');
}

describe('a crack that a photo proposed', () => {
  test('is keyed as one that is sure, and report, order of work and map say what it stands on', async () => {
    const proposed = jobWith({ top: [crack({ confidence: 0.6 })] });
    const confirmed = jobWith({ top: [crack({})] });
    const [asked] = reportOf(proposed).tops;
    const [known] = reportOf(confirmed).tops;
    expect(known?.keys.length).toBeGreaterThan(0);
    expect(asked?.keys).toEqual(known?.keys);
    expect([asked?.cracks[0]?.proposed, known?.cracks[0]?.proposed]).toEqual([true, false]);
    expect(sent(proposed).some((words) => words.includes('Slab 1: crack a') && words.includes(NOT_CONFIRMED))).toBe(
      true,
    );
    expect(sent(confirmed).some((words) => words.includes(NOT_CONFIRMED))).toBe(false);
    const [open, settled] = [await mapWords(proposed), await mapWords(confirmed)];
    expect(open).toContain('K1*');
    expect(open).toContain('crack not confirmed');
    expect(settled).toContain('K1');
    expect(settled).not.toContain('*');
    expect(settled).not.toContain('not confirmed');
  });

  test('is not used once it is dropped', () => {
    const [top] = reportOf(jobWith({})).tops;
    expect(top?.cracks).toEqual([]);
    expect(top?.keys).toEqual([]);
  });
});

describe('a crack that only the underside shows', () => {
  test('is keyed from both faces where it goes through, and left alone where it does not or nobody knows', () => {
    const [top] = reportOf(jobWith({ bottom: [below({ through: true })] })).tops;
    const [shown] = reportOf(jobWith({ top: [crack({ through: true })] })).tops;
    expect(top?.keys.map(({ at, face }) => [at.map(Math.round), face])).toEqual(
      shown?.keys.map(({ at, face }) => [at.map(Math.round), face]),
    );
    expect(new Set(top?.keys.map(({ face }) => face))).toEqual(new Set(['top', 'bottom']));
    expect(top?.cracks[0]?.id).toContain('′');
    for (const through of [false, undefined])
      expect(reportOf(jobWith({ bottom: [below(through === undefined ? {} : { through })] })).tops[0]?.cracks).toEqual(
        [],
      );
  });

  test('is one with the crack of this face that runs at the same place', () => {
    const [top] = reportOf(jobWith({ top: [crack({})], bottom: [below({ through: true })] })).tops;
    expect(top?.cracks.map(({ id, through }) => [id, through])).toEqual([['slab-1-d1', true]]);
  });
});
