import { bounds, distance, type Point, type Polygon, type Segment, simplify } from '../geometry';
import { DEFAULT_KEY_FIT, DEFAULT_RESIN, type Job } from '../job';
import { crackFill, inlayPair, type Key, type KeysOutput, marksOf, runsOut, taperOf, templateOf } from '../keys';
import { formatLength, listed } from '../units';
import type { KeyWork, SizeWork } from './key-report';
import type { TopReport } from './report';

/** What is known of the keys of a top before it is told how they are made. */
type Keyed = Pick<TopReport, 'outline' | 'size' | 'cracks' | 'keys'>;

/** Marks, fills, templates and tapers of a top's keys; null where it has neither a key nor a crack to be keyed. */
export function keyWork(job: Job, top: Keyed, notes: readonly string[]): KeyWork | null {
  if (top.cracks.length === 0) return null;
  const datum = datumOf(top);
  const cracks = top.cracks.map((crack) => {
    const tips = tipsOf(crack.line);
    return {
      tips,
      open: [runsOut(tips[0], top.outline), runsOut(tips[1], top.outline)] as const,
      under: crack.far && tipsOf(crack.far),
      fill: crack.seam
        ? null
        : crackFill(crack.line, crack.through ? top.size.thickness : null, job.shop.resin ?? DEFAULT_RESIN),
    };
  });
  const marks = top.keys.map((key) => {
    const crack = cracks[key.crack];
    const tips = (key.face === 'bottom' ? crack?.under : null) ?? crack?.tips ?? datum.line;
    return marksOf({ at: key.at, angle: key.angle, length: lengthOf(key) }, datum.line, tips);
  });
  return { datum, marks, cracks, sizes: sizesOf(job, top.keys), notes };
}

/** What the keys' own rules say of a layout, crack by crack, and whether the wood is known to be dry enough for keys. */
export function keyNotes(
  { notes, cracks }: Pick<KeysOutput, 'notes' | 'cracks'>,
  shown: TopReport['cracks'],
  moisture: number | null,
): string[] {
  return [
    ...notes,
    ...(moisture === null && cracks.length > 0
      ? [
          "The wood's moisture was not measured: keys are fitted once it is within 1 to 2 % of what the site brings it to (practice).",
        ]
      : []),
    ...crackNotes(cracks, shown),
  ];
}

/** What is said of each crack, once where it is said of several. */
function crackNotes(cracks: KeysOutput['cracks'], shown: TopReport['cracks']): string[] {
  const marks = new Map<string, string[]>();
  for (const { crack, notes } of cracks)
    for (const words of notes) marks.set(words, [...(marks.get(words) ?? []), shown[crack]?.mark ?? '']);
  return [...marks].map(([words, all]) => `${listed(all)}${all.length > 1 ? ', each' : ''}: ${words}`);
}

/** A key's length, from its outline: its ends are its sides at right angles to its axis. */
function lengthOf({ outline, at, angle }: Pick<Key, 'outline' | 'at' | 'angle'>): number {
  const [ux, uy] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  return 2 * Math.max(...outline.map(([x, y]) => (x - at[0]) * ux + (y - at[1]) * uy));
}

/** The two ends of a crack in the top, the left one first as one stands before it (x runs to the left there). */
function tipsOf(line: TopReport['cracks'][number]['line']): Segment<'top'> {
  const [a, b] = [line[0], line.at(-1)] as [(typeof line)[number], (typeof line)[number]];
  const [p, q]: Segment<'top'> = [
    [a[0], a[1]],
    [b[0], b[1]],
  ];
  return p[0] >= q[0] ? [p, q] : [q, p];
}

/** An edge that strays no farther from a straight line is straight to a tape and a square, mm. */
const STRAIGHT = 0.5;
/** A straight side serves as datum line where it runs along this much of the top. */
const LONG_ENOUGH = 0.4;

/** The top's longest straight side along its front or back; with two live edges the front line, which is snapped first. */
function datumOf({ outline, size }: Keyed): KeyWork['datum'] {
  const sides = straightSides(outline).filter(
    ([a, b]) => Math.abs(b[0] - a[0]) > Math.abs(b[1] - a[1]) && distance(a, b) >= LONG_ENOUGH * size.length,
  );
  const [longest] = sides.sort((p, q) => distance(q[0], q[1]) - distance(p[0], p[1]));
  if (!longest) {
    return {
      name: 'front line',
      line: [
        [size.length, 0],
        [0, 0],
      ],
    };
  }
  const { minY, maxY } = bounds(outline);
  const behind = longest[0][1] + longest[1][1] > minY + maxY;
  const [a, b] = longest;
  return { name: behind ? 'back edge' : 'front edge', line: a[0] >= b[0] ? [a, b] : [b, a] };
}

/** Sides of a ring as if what strays from a straight line by no more than `STRAIGHT` lay on it. */
function straightSides(ring: Polygon<'top'>): Segment<'top'>[] {
  const corners = simplify(ring, STRAIGHT);
  return corners.map((p, i) => [p, corners[(i + 1) % corners.length] as Point<'top'>] as const);
}

/** How each size is made that these keys use. */
function sizesOf(job: Job, keys: TopReport['keys']): SizeWork[] {
  const { keySizes, router, keyFit = DEFAULT_KEY_FIT, units } = { ...job.shop, units: job.units };
  const say = (mm: number): string => formatLength(mm, units, { unit: true, denominator: 32 });
  return keySizes.flatMap((size) => {
    const own = keys.filter((key) => key.size === size.id);
    if (own.length === 0) return [];
    const depths = [...new Set(own.map(({ depth }) => depth))].sort((a, b) => a - b);
    const deepest = depths.at(-1) as number;
    const { collar } = router;
    return [
      {
        size,
        count: own.length,
        depths,
        template: templateOf(size, deepest, router, say),
        inlay: collar === undefined ? null : inlayPair(size, { ...router, collar }, keyFit, say),
        taper: taperOf(deepest, keyFit),
      },
    ];
  });
}
