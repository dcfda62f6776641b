import loadHighs from 'highs';
import * as v from 'valibot';
import { beforeAll, describe, expect, test } from 'vitest';
import { bounds } from '../../src/geometry';
import type { Job, Plan } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { type PlanReport, planDocument, planOutput, planReport, sparePieces } from '../../src/plan';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

/** A straight top from one slab with a crack right through its middle, 500 long and at most 4 wide. */
let job: Job;
let plan: Plan;
let report: PlanReport;

beforeAll(async () => {
  job = wavyJob([{ length: 2600, width: 480, swing: 6, thickness: 54 }], {
    length: 1800,
    depth: [300, 340],
    front: 'straight',
    thickness: 38,
    seams: 0,
  });
  plan = (await proposePlans(job, new Map(), await loadHighs(), unwatched()))[0] as Plan;
  const { minX, maxX, minY, maxY } = bounds(plan.placements.counter?.strips[0]?.finished ?? []);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.faces.top.defects.d1 = {
    id: 'd1',
    kind: 'crack',
    permit: 'keyed',
    through: true,
    line: [
      [x - 250, y, 0],
      [x, y, 4],
      [x + 250, y, 0],
    ],
  };
  report = planReport(job, plan);
});

const counter = (of: PlanReport) => of.tops[0]!;

describe('how the keys of a plan are made', () => {
  test('resin: half of 500 x 4 mm, right through 38 mm, a fifth over', () => {
    const { keyWork, cracks } = counter(report);
    expect(cracks[0]?.called).toBe('a on Slab 1');
    expect(keyWork?.cracks[0]?.fill).toMatchObject({ area: expect.closeTo(1000, 3), depth: 38 });
    expect(keyWork?.cracks[0]?.fill?.litres).toBeCloseTo((1000 * 38 * 1.2) / 1e6, 6);
  });

  test('layout: measured from the straight front, and the two tapes from the tips meet on the crack', () => {
    const { keys, keyWork, size } = counter(report);
    expect(keys.length).toBeGreaterThan(2);
    expect(keyWork?.datum.name).toMatch(/front edge|back edge/);
    keys.forEach((key, i) => {
      const { datum, tips } = keyWork!.marks[i]!;
      expect(datum.middle.along).toBeCloseTo(size.length - key.at[0], 0);
      expect(tips.tapes[0] + tips.tapes[1]).toBeCloseTo(500, 1);
      expect(Math.abs(tips.leans)).toBeLessThan(0.1);
    });
    // A is the left one: the nearer a key is to the left end, the nearer it is to A.
    const byLeft = keys
      .map((_, i) => i)
      .sort((a, b) => keyWork!.marks[a]!.datum.middle.along - keyWork!.marks[b]!.datum.middle.along);
    const fromA = byLeft.map((i) => keyWork!.marks[i]!.tips.tapes[0]);
    expect(fromA).toEqual([...fromA].sort((a, b) => a - b));
  });

  test('blanks: one for each key, from clear pieces of the plan that are long, wide and thick enough', () => {
    const { keys } = counter(report);
    const [blanks] = report.keyBlanks;
    expect(blanks?.wanted.reduce((sum, { count }) => sum + count, 0)).toBe(keys.length);
    const pieces = sparePieces(job, report);
    const placed = blanks!.plan.uses.flatMap((use) => use.blanks);
    const short = blanks!.plan.short.reduce((sum, { count }) => sum + count, 0);
    expect(placed.length + short).toBe(keys.length);
    expect(placed.length).toBeGreaterThan(0);
    for (const { piece, blanks: cut } of blanks!.plan.uses) {
      const [length, width] = pieces.find(({ name }) => name === piece)!.size;
      for (const { x, y, length: long, width: wide } of cut) {
        expect(x + long).toBeLessThanOrEqual(length + 1e-6);
        expect(y + wide).toBeLessThanOrEqual(width + 1e-6);
      }
      expect(blanks!.words.join(' ')).toContain(piece);
    }
  });

  test('keys of a wood that no offcut is of must come from elsewhere, which is said', () => {
    const other = planReport({ ...job, shop: { ...job.shop, keySpecies: 'maple_sugar' } }, plan).keyBlanks[0]!;
    expect(other.plan.uses).toEqual([]);
    expect(other.words.join(' ')).toMatch(/must come from elsewhere\. The plan leaves no offcut of .*maple/i);
  });

  test('a moisture that nobody measured, or one far from the site, is said before a pocket is cut', () => {
    const wet = (moisture: number | null) => {
      const own = structuredClone(job);
      for (const flitch of Object.values(own.flitches)) {
        flitch.moisture = moisture;
        for (const slab of Object.values(flitch.slabs)) slab.moisture = null;
      }
      return counter(planReport(own, plan)).keyWork!.notes.join(' ');
    };
    const [unread, far, near] = [wet(null), wet(14), wet(8)];
    expect(unread).toContain('moisture was not measured');
    expect(far).toMatch(/at 14 % and the site at 8 %/);
    for (const notes of [unread, far, near]) expect(notes).toContain('they do not stop drying');
    expect(near).not.toMatch(/not measured|site at/);
  });

  test('plan.json holds blanks and resin and keeps to its schema', () => {
    const document = planDocument(report, []);
    expect(() => v.parse(planOutput, JSON.parse(JSON.stringify(document)))).not.toThrow();
    expect(document.keyBlanks[0]?.wanted.length).toBeGreaterThan(0);
    expect(document.placements[0]?.cracks[0]).toMatchObject({ area: expect.closeTo(1000, 3) });
  });
});
