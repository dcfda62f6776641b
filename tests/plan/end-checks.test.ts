import { expect, test } from 'vitest';
import type { Defect, Placement } from '../../src/job';
import { endCheckNotes } from '../../src/plan/end-checks';
import { placesOf } from '../support/places';
import { wavyJob } from '../support/wavy-slabs';

const crack = (id: string, x: number, to: number, y: number): Defect => ({
  id,
  kind: 'crack',
  permit: 'keyed',
  line: [
    [x, y, 2],
    [to, y, 0],
  ],
});

/** What is said of cracks along x on a slab of 2,400 mm of which 1,800 become a top. */
function said(placement: Placement, cracks: readonly Defect[]): string[] {
  const cracked = structuredClone(job);
  const slab = cracked.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.faces.top.defects = Object.fromEntries(cracks.map((one) => [one.id, one]));
  return endCheckNotes(cracked, placement);
}

const job = wavyJob([{ length: 2400, width: 600, swing: 4 }], { length: 1800, depth: [480, 560], seams: 0 });

test('cracks that share what becomes of them are named in one sentence, one alone in its own', () => {
  const [place] = placesOf(job).fit;
  if (!place) throw new Error('The slab gives it.');
  const xs = (place.placement.strips[0]?.finished ?? []).map(([x]) => x);
  const [from, to] = [Math.min(...xs), Math.max(...xs)];
  const gone = [crack('a', 0, from - 20, 200), crack('b', 0, from - 30, 300), crack('c', 2400, to + 20, 250)];
  const open = crack('d', 0, from + 200, 350);
  expect(said(place.placement, [...gone, open])).toEqual([
    'The cracks a, b and c on Slab 1 go with the ends that are cut off.',
    'The crack d on Slab 1 is cut through: it comes out at the end of the top, open there, and wants a key or fill.',
  ]);
  expect(said(place.placement, [gone[0] as Defect])).toEqual([
    'The crack a on Slab 1 goes with the end that is cut off.',
  ]);
  expect(said(place.placement, [crack('e', from + 50, from + 400, 300)])).toEqual([]);
});
