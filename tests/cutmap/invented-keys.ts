import type { Point, Polygon } from '../../src/geometry';
import type { Key, KeysOutput } from '../../src/keys';
import type { PlanReport } from '../../src/plan';

/** A key's outline, its length upright. */
export function bowtie<F extends 'face' | 'top'>(
  [x, y]: Point<F>,
  length: number,
  end: number,
  waist: number,
): Polygon<F> {
  const [h, e, w] = [length / 2, end / 2, waist / 2];
  return [
    [x - e, y - h],
    [x + e, y - h],
    [x + w, y],
    [x + e, y + h],
    [x - e, y + h],
    [x - w, y],
  ];
}

export const inventedKey = (at: Point<'top'>, k: number): Key => ({
  crack: 0,
  face: 'top',
  part: 0,
  along: 50 + k * 150,
  at,
  angle: 90,
  size: k < 2 ? 'large' : 'medium',
  depth: 14,
  under: 24,
  outline: k < 2 ? bowtie(at, 90, 50.3, 27) : bowtie(at, 70, 39.1, 21),
  pocket: k < 2 ? bowtie(at, 90, 50.3, 27) : bowtie(at, 70, 39.1, 21),
  template: null,
});

export const INVENTED_HOLD: KeysOutput['hold'] = {
  keys: 9000,
  wood: 5000,
  ratio: 1.8,
  bearing: 6000,
  low: { keys: 6000, wood: 3000 },
  unbroken: 80000,
  share: 0.06,
  weakest: 'wood',
  note: 'invented',
};

/** Blanks for those keys. */
export const INVENTED_BLANKS: PlanReport['keyBlanks'] = [
  {
    species: 'walnut_black',
    tops: ['counter'],
    wanted: [{ size: 'large', length: 93, width: 53.3, thickness: 16, count: 2 }],
    plan: { uses: [], short: [{ size: 'large', count: 2 }], unread: ['O1 of Slab 1'] },
    words: ['2 blanks of large must come from elsewhere (invented).'],
  },
];
