import { expect, test } from 'vitest';
import { type Board, emptyJob, type Job, type Photo } from '../../src/job';
import { recordLeaves } from '../../src/plan';

const square = (x: number, y: number, side: number) => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];
/** What a photo told of one leaf: a knot, a stain, and a strip that nobody can call sapwood. */
const read = (sapwoodTold: boolean) =>
  ({
    calibration: { residualPx: 0.2 },
    traced: {
      outline: { outer: square(0, 0, 200), holes: [] },
      bark: null,
      outlineSigma: 0.3,
      sapwood: [square(0, 0, 40)],
      sapwoodTold,
      unseen: [],
      hidden: [],
      pith: null,
      defects: [
        { kind: 'knot', polygon: square(90, 90, 6), confidence: 0.8 },
        { kind: 'stain', polygon: square(20, 20, 6), confidence: 0.5 },
        {
          kind: 'crack',
          line: [
            [0, 5, 1],
            [150, 9, 2],
          ],
          confidence: 0.7,
        },
      ],
    },
  }) as unknown as Parameters<typeof recordLeaves>[4][number]['read'];
const photo = { id: 'p', file: 'photos/p.jpg' } as unknown as Omit<Photo, 'calibration'>;
const picture = { file: 'faces/f.jpg', mmPerPx: 1, x0: 0, y0: 0 } as Parameters<
  typeof recordLeaves
>[4][number]['picture'];

function recorded(...told: boolean[]): Job {
  const job = structuredClone(emptyJob('j', 'Job', '2026-11-26'));
  job.boards.b = { id: 'b', leaves: {} } as unknown as Board;
  let number = 0;
  const leaves = told.map((one) => ({ read: read(one), picture }));
  recordLeaves(job, 'b', 'top', photo, leaves, () => `l${++number}`);
  return job;
}

test('on a panel no defect of a leaf shows until one allows it, however small; a stain may', () => {
  const { leaves } = recorded(false).boards.b as Board;
  const permits = Object.values(leaves.l1?.faces.top.defects ?? {}).map(({ kind, permit }) => [kind, permit]);
  expect(permits).toEqual([
    ['knot', 'avoid'],
    ['stain', 'allow'],
    ['crack', 'avoid'],
  ]);
});

test('a strip along a sawn side is sapwood only where it is told on every side', () => {
  const { leaves } = recorded(true, false).boards.b as Board;
  expect(Object.values(leaves).map(({ place, faces }) => [place, faces.top.sapwood.length])).toEqual([
    [1, 1],
    [2, 0],
  ]);
});
