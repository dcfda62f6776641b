import { describe, expect, test } from 'vitest';
import { rectangle } from '../../src/geometry';
import { emptyFlitch, emptyJob, emptySlab, type Photo } from '../../src/job';
import { recordTrace } from '../../src/plan';

type Traced = Parameters<typeof recordTrace>[2];
type Proposed = Traced['traced']['defects'][number];

const PLACE = { flitch: 'log', slab: 'slab', face: 'top', photo: 'p' } as const;
const PICTURE = { file: 'slab.png', mmPerPx: 1, x0: 0, y0: 0, width: 10, height: 10 };

const photoOf = (id: string): Photo => ({
  id,
  file: `${id}.jpg`,
  width: 10,
  height: 10,
  calibration: null,
  scale: { kind: 'markers', dictionary: '4x4_50', side: 80 },
});

/** What is permitted of one proposed defect once its photo has been recorded. */
function permit(defect: Proposed): string | undefined {
  const job = emptyJob('j', 'Job', '2026-11-25');
  const slab = emptySlab('slab', 1);
  slab.faces.top.photos.p = photoOf('p');
  job.flitches.log = { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { slab } };
  const traced = {
    outline: { outer: rectangle<'face'>(0, 0, 9, 9), holes: [] },
    bark: null,
    outlineSigma: 1,
    sapwood: [],
    unseen: [],
    defects: [defect],
    cutOff: [],
    hidden: [],
  };
  recordTrace(job, PLACE, { traced, calibration: null } as unknown as Traced, PICTURE);
  return slab.faces.top.defects.d1?.permit;
}

test('a photo that was measured by the slab itself makes way for the next, which others do not', () => {
  const job = emptyJob('j', 'Job', '2026-11-25');
  const slab = emptySlab('slab', 1);
  const calibration = {} as Photo['calibration'];
  const span = {
    px: [
      [0, 0],
      [9, 0],
    ] as [[number, number], [number, number]],
    mm: 9,
  };
  slab.faces.top.photos = {
    taped: { ...photoOf('taped'), calibration, scale: { kind: 'slab', length: span, widths: [span, span, span] } },
    cards: { ...photoOf('cards'), calibration },
    p: photoOf('p'),
  };
  job.flitches.log = { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { slab } };
  const traced = { outline: null, bark: null, outlineSigma: 1, sapwood: [], unseen: [], defects: [], hidden: [] };
  recordTrace(job, PLACE, { traced, calibration } as unknown as Traced, PICTURE);
  const left = Object.values(slab.faces.top.photos).filter((photo) => photo.calibration);
  expect(left.map(({ id }) => id)).toEqual(['cards', 'p']);
});

test('where the slab ran out of its photo is kept with the face, and whether its sapwood could be told', () => {
  const job = emptyJob('j', 'Job', '2026-11-25');
  const slab = emptySlab('slab', 1);
  slab.faces.top.photos.p = photoOf('p');
  job.flitches.log = { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { slab } };
  const unseen = [
    [
      [9, 0],
      [9, 9],
    ],
  ];
  const record = (sapwoodTold: boolean) => {
    const traced = {
      outline: null,
      bark: null,
      outlineSigma: 1,
      sapwood: [],
      sapwoodTold,
      unseen,
      defects: [],
      hidden: [],
    };
    recordTrace(job, PLACE, { traced, calibration: null } as unknown as Traced, PICTURE);
    return slab.faces.top;
  };
  expect(record(false).unseen).toEqual(unseen);
  expect([false, true].map((told) => record(told).sapwoodTold)).toEqual([false, true]);
});

/** What a maker usually allows: common practice, no source. */
describe('what a proposed defect permits', () => {
  const patch = (kind: 'void' | 'bark inclusion' | 'knot', side: number): Proposed => ({
    kind,
    confidence: 0.8,
    polygon: rectangle(0, 0, side, side),
  });

  test.each([
    [patch('void', 40), 'avoid'],
    [patch('bark inclusion', 40), 'avoid'],
    // A hole the size of a finger tip is filled: it must not forbid half a slab.
    [patch('void', 9), 'allow'],
    [patch('bark inclusion', 9), 'allow'],
    [patch('knot', 40), 'allow'],
  ])('%o', (defect, expected) => {
    expect(permit(defect)).toBe(expected);
  });

  test('a long crack is keyed, a short one filled', () => {
    const crack = (length: number): Proposed => ({
      kind: 'crack',
      confidence: 0.8,
      line: [
        [0, 0, 2],
        [length, 0, 2],
      ],
    });
    expect([permit(crack(600)), permit(crack(60))]).toEqual(['keyed', 'allow']);
  });
});

test('the pith is written where a photo shows it, and stays as a person settled it', () => {
  const job = emptyJob('j', 'Job', '2026-11-25');
  const slab = emptySlab('slab', 1);
  slab.faces.top.photos.p = photoOf('p');
  job.flitches.log = { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { slab } };
  const record = (pith: object | null) => {
    const traced = {
      outline: null,
      bark: null,
      outlineSigma: 1,
      sapwood: [],
      unseen: [],
      defects: [],
      hidden: [],
      pith,
    };
    recordTrace(job, PLACE, { traced, calibration: null } as unknown as Traced, PICTURE);
    return slab.faces.top.pith;
  };
  const line = [
    [0, 4],
    [9, 5],
  ];
  expect(record(null)).toBeNull();
  expect(record({ line, confidence: 0.6 })).toEqual(line);
  expect(record({ line: [], confidence: 0.6 })).toEqual(line);
  expect(record(null)).toEqual(line);
});
