import { expect, test } from 'vitest';
import { emptyJob } from '../../src/job';
import { suppliesOf } from '../../src/plan';

const job = emptyJob('j', 'Job', '2026-11-26');
type Report = Parameters<typeof suppliesOf>[1];
const report = (part: object) => ({ tops: [], sets: [], wood: { tops: [] }, ...part }) as unknown as Report;

test('what a plan takes is the sum of what its seams, cracks, rows of screws and panels take, rounded up', () => {
  const fixing = { screw: 5, perRow: 4, rows: [{}, {}, {}] };
  const found = suppliesOf(
    job,
    report({
      wood: { tops: [{ name: 'Counter', glue: [{ grams: 61 }, { grams: 60 }], fixing }] },
      tops: [
        {
          name: 'Counter',
          keyWork: { cracks: [{ fill: { litres: 0.031 } }, { fill: { litres: null } }, { fill: null }] },
        },
      ],
      sets: [{ press: { glue: { grams: 198 }, cores: [{ thickness: 18, cuts: { sheets: [{}, {}] } }] } }],
    }),
  );
  expect(found.map(({ quantity }) => quantity)).toEqual(['125 g', '12', '40 ml', '200 g', '2']);
  expect(found.map(({ of }) => of.split(' ').at(-1))).toEqual(['Counter', 'Counter', 'Counter', 'panels', 'panels']);
});

test('a plan without seams, cracks and panels takes nothing but its screws', () => {
  const fixing = { screw: 5, perRow: 2, rows: [{}] };
  const found = suppliesOf(job, report({ wood: { tops: [{ name: 'Shelf', glue: [], fixing }] } }));
  expect(found.map(({ quantity }) => quantity)).toEqual(['2']);
});
