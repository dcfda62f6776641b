import fc from 'fast-check';
import { expect, it } from 'vitest';
import { distance, distanceToRing, rectangle, ringArea } from '../../src/geometry';
import type { Job, Top } from '../../src/job';
import { topOutline } from '../../src/layout';
import { planReport } from '../../src/plan';
import { onlyTop, placesOf, planWith } from '../support/places';
import { wavyJob } from '../support/wavy-slabs';

const SLAB = { length: 2600, width: 760, swing: 8, thickness: 54 };
const reportOf = (wish: Partial<Top>) => {
  const job: Job = wavyJob([SLAB], { length: 1900, depth: [560, 620], thickness: 38, seams: 0, ...wish });
  const [place] = placesOf(job).fit;
  if (!place) throw new Error('The slab gives it.');
  const report = planReport(job, planWith(place.placement));
  const [top] = report.tops;
  if (!top) throw new Error('It is placed.');
  return { job, report, top, placement: place.placement, wanted: onlyTop(job) };
};
const end = (degrees: number) => ({ edge: 'straight' as const, degrees, short: 40 });

it('a scribe line lies as far inside the sawn edge as wood is kept there, along the whole back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 0, max: 12 }), (back, wallBow) => {
      const { top, placement } = reportOf({ scribe: { back, right: 0, left: 0 }, wallBow });
      const [line, ...others] = top.lines.scribe;
      expect(others).toEqual([]);
      if (!line) throw new Error('Wood is kept.');
      expect(distance(...line)).toBeCloseTo(1900, 3);
      for (const t of [0.1, 0.5, 0.9]) {
        const p = [line[0][0] + t * (line[1][0] - line[0][0]), line[0][1]] as const;
        expect(distanceToRing(p, topOutline(placement))).toBeCloseTo(back + wallBow, 2);
      }
    }),
    { numRuns: 5 },
  );
});

it('an end that is not square is dimensioned at its corner of the outline, and said with the work', () => {
  const { top, report, placement } = reportOf({ front: 'straight', ends: { right: end(90), left: end(135) } });
  const [angle, ...others] = top.lines.angles;
  expect(others).toEqual([]);
  expect(angle).toMatchObject({ side: 'left', degrees: 135 });
  if (!angle) throw new Error('One end slants.');
  expect(Math.min(...topOutline(placement).map((p) => distance(p, angle.at)))).toBeLessThan(0.01);
  const trim = report.order.find(({ step }) => step === 'Trim and cut out');
  expect(trim?.detail).toContain('left-hand end at 135° to the front');
});

it('what a hole takes is not carried: the top weighs less by its share of the area', () => {
  const sink = { id: 's', name: 'Sink', polygon: rectangle<'top'>(700, 120, 1200, 420), keep: 60, seam: false };
  const [whole, cut] = [reportOf({}), reportOf({ cutOuts: { s: sink } })];
  const share = 1 - ringArea(sink.polygon) / ringArea(whole.top.outline);
  expect((cut.top.weight?.kg ?? 0) / (whole.top.weight?.kg ?? 1)).toBeCloseTo(share, 3);
  expect(cut.top.lines.holes.map(({ name }) => name)).toEqual(['Sink']);
  expect(cut.report.order.find(({ step }) => step === 'Trim and cut out')?.detail).toContain('the hole for the sink');
});
