import type { Point } from '../../src/geometry';
import type { Scale } from '../../src/job';
import { type Cv, calibrate } from '../../src/photo';
import { measure } from '../../src/photo/measure';
import { InputProblem } from '../../src/units';
import { heightOf, projected, type Subject } from './photos';
import { percent, quantile, type Row, rms, share } from './table';

/** Check distances in plan, by each kind of reference, against the truth behind the rendering. */

/** One length: what the photo says, what is true, and its ± (two sigma). mm */
interface Length {
  readonly said: number;
  readonly truth: number;
  readonly plusMinus: number;
}

export interface Trial {
  readonly what: string;
  /** What the photo was told, flat slab or warped: nobody knows which before it is read, so the ± is judged over both. */
  readonly told:
    | 'cards alone'
    | 'cards and heights'
    | 'cards, heights and tape'
    | 'sheet and lens'
    | 'sheet alone'
    | 'rods';
  readonly on: (subject: Subject) => boolean;
  /** The reference as a maker gives it; `tape` is a check distance that may be given and is then not asked. */
  readonly scale: (subject: Subject) => Scale;
  readonly within?: { readonly share: number; readonly mm: number; readonly reach: number };
}

const kindOf = ({ truth }: Subject) => truth.references[0]?.type;
const isLeaf = ({ name }: Subject) => name.startsWith('leaves');
const flat = (s: Subject) => s.truth.warp_scale === 0 && !isLeaf(s);
const warped = (s: Subject) => s.truth.warp_scale !== 0 && !isLeaf(s);
const marked = (s: Subject) => kindOf(s) === 'aruco';

const markers = (s: Subject): Scale & { kind: 'markers' } => ({
  kind: 'markers',
  dictionary: '4x4_50',
  side: s.truth.references[0]?.side_mm ?? 80,
});

/** This camera's lens as another photo of it would have taught it. */
function lensOf({ truth: { camera } }: Subject): NonNullable<Scale['lens']> {
  return { focal: (camera.K[0]?.[0] as number) / 4000, k1: camera.dist[0] as number };
}

const sheet = (s: Subject): Scale & { kind: 'paper' } => {
  const [width, height] = s.truth.references[0]?.size_mm ?? [297, 210];
  return { kind: 'paper', width, height };
};

const whole = (p: Point<'photo'>): Point<'photo'> => [Math.round(p[0]), Math.round(p[1])];

/** Rods with the ends of their paint and their corners, clicked on whole pixels as a hand does. */
const rods = (s: Subject): Scale => ({
  kind: 'rods',
  rods: s.truth.references.map(
    ({ ends_px, ends_mm, corners_px, length_mm, width_mm, thickness_mm, painted_end_mm, z_mm }) => {
      const [a, b] = ends_mm as readonly [Point<'face'>, Point<'face'>];
      const length = length_mm as number;
      const along = (at: number): Point<'face'> => [
        a[0] + ((b[0] - a[0]) * at) / length,
        a[1] + ((b[1] - a[1]) * at) / length,
      ];
      const paint = painted_end_mm as number;
      return {
        px: ends_px!.map(whole) as [Point<'photo'>, Point<'photo'>],
        length,
        marks: [paint, length - paint].map((at) => ({ px: whole(projected(s, along(at), z_mm)), at })),
        corners: corners_px.map(whole) as [Point<'photo'>, Point<'photo'>, Point<'photo'>, Point<'photo'>],
        width: width_mm as number,
        above: thickness_mm as number,
      };
    },
  ),
});

/** Heights of the face over its mean plane from a person's readings. */
function heightsOf(s: Subject): NonNullable<Scale['heights']> {
  const { gaps } = s;
  if (!gaps) return [];
  const read = gaps.y.flatMap((y, j) =>
    gaps.x.flatMap((x, i) => {
      const gap = gaps.top.gap_mm[j]?.[i];
      return typeof gap === 'number' ? [{ x, y, z: -gap }] : [];
    }),
  );
  const detrended = overMeanPlane(read);
  return detrended.map(({ x, y, z }) => ({ px: projected(s, [x, y], -heightOf(s, [x, y])), z }));
}

interface Spot {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Heights less their least-squares plane. */
function overMeanPlane(spots: readonly Spot[]): Spot[] {
  const centre = (of: (s: Spot) => number) => spots.reduce((sum, s) => sum + of(s), 0) / spots.length;
  const [mx, my, mz] = [centre((s) => s.x), centre((s) => s.y), centre((s) => s.z)];
  const sum = (of: (s: Spot) => number) => spots.reduce((total, s) => total + of(s), 0);
  const [xx, xy, yy] = [sum((s) => (s.x - mx) ** 2), sum((s) => (s.x - mx) * (s.y - my)), sum((s) => (s.y - my) ** 2)];
  const [xz, yz] = [sum((s) => (s.x - mx) * (s.z - mz)), sum((s) => (s.y - my) * (s.z - mz))];
  const det = xx * yy - xy * xy;
  const [a, b] = [(xz * yy - yz * xy) / det, (yz * xx - xz * xy) / det];
  return spots.map(({ x, y, z }) => ({ x, y, z: z - mz - a * (x - mx) - b * (y - my) }));
}

/** The longest check distance, as the tape would give it: to the millimetre. */
function tape({ truth: { check_distances: all } }: Subject): NonNullable<Scale['distances']>[number] {
  const longest = all.reduce((a, b) => (b.plan_mm > a.plan_mm ? b : a));
  return { px: [longest.a_px, longest.b_px], length: Math.round(longest.plan_mm) };
}

const within = (share: number, mm: number, reach: number) => ({ share, mm, reach });

export const TRIALS: readonly Trial[] = [
  {
    what: 'four markers, places unknown, flat',
    told: 'cards alone',
    on: (s) => marked(s) && flat(s),
    scale: markers,
    within: within(0.0012, 1.2, 0.95),
  },
  {
    what: 'the same, warped, nothing more',
    told: 'cards alone',
    on: (s) => marked(s) && warped(s),
    scale: markers,
    within: within(0.002, 2, 0.7),
  },
  {
    what: 'the same with heights',
    told: 'cards and heights',
    on: (s) => marked(s) && warped(s),
    scale: (s) => ({ ...markers(s), heights: heightsOf(s) }),
    within: within(0.002, 2, 0.92),
  },
  {
    what: 'the same with heights and one tape distance',
    told: 'cards, heights and tape',
    on: (s) => marked(s) && warped(s),
    scale: (s) => ({ ...markers(s), heights: heightsOf(s), distances: [tape(s)] }),
    within: within(0.002, 2, 0.99),
  },
  {
    what: 'leaves, markers on the bench 3 mm lower',
    told: 'cards alone',
    on: isLeaf,
    scale: (s) => ({ ...markers(s), drop: 3 }),
  },
  {
    what: 'one sheet, lens given, flat',
    told: 'sheet and lens',
    on: (s) => kindOf(s) === 'sheet' && flat(s),
    scale: (s) => ({ ...sheet(s), lens: lensOf(s) }),
    within: within(0.004, 0, 0.95),
  },
  {
    what: 'one sheet, lens unknown, flat',
    told: 'sheet alone',
    on: (s) => kindOf(s) === 'sheet' && flat(s),
    scale: sheet,
  },
  {
    what: 'one sheet, lens given, warped',
    told: 'sheet and lens',
    on: (s) => kindOf(s) === 'sheet' && warped(s),
    scale: (s) => ({ ...sheet(s), lens: lensOf(s) }),
  },
  {
    what: 'rods with marks and edges, flat',
    told: 'rods',
    on: (s) => kindOf(s) === 'stick' && flat(s),
    scale: rods,
    within: within(0.0045, 0, 0.95),
  },
  {
    what: 'rods with marks and edges, warped',
    told: 'rods',
    on: (s) => kindOf(s) === 'stick' && warped(s),
    scale: rods,
  },
];

export async function distances(cv: Cv, all: readonly Subject[]): Promise<Row[]> {
  const rows: Row[] = [];
  const told = new Map<Trial['told'], Length[]>();
  for (const trial of TRIALS) {
    const lengths: Length[] = [];
    for (const s of all.filter(trial.on)) lengths.push(...(await measured(cv, s, trial)));
    if (lengths.length === 0) continue;
    rows.push(rowOf(trial, lengths));
    told.set(trial.told, [...(told.get(trial.told) ?? []), ...lengths]);
  }
  return [...rows, ...[...told].map(([what, lengths]) => doubtRow(`± of ${what}, flat and warped`, lengths))];
}

/** Every check distance of a photo but the one that was given. None where the photo is refused, which is said. */
async function measured(cv: Cv, s: Subject, trial: Trial): Promise<Length[]> {
  const scale = trial.scale(s);
  const given = new Set((scale.distances ?? []).map(({ px }) => String(px)));
  try {
    const options = s.focal35 === undefined ? {} : { exifFocal35: s.focal35 };
    const view = measure(calibrate(cv, await s.photo(), scale, options));
    return s.truth.check_distances.flatMap(({ a_px, b_px, plan_mm }) => {
      const seen = view.distance(a_px, b_px);
      return given.has(String([a_px, b_px])) || !seen
        ? []
        : [{ said: seen.mm, truth: plan_mm, plusMinus: 2 * seen.sigma }];
    });
  } catch (fault) {
    if (!(fault instanceof InputProblem)) throw fault;
    console.error(`${s.name}: ${fault.message}`);
    return [];
  }
}

function rowOf({ what, within }: Trial, lengths: readonly Length[]): Row {
  const off = lengths.map(({ said, truth }) => Math.abs(said - truth));
  const relative = lengths.map(({ truth }, i) => (off[i] as number) / truth);
  const spread = `median ${percent(quantile(relative, 0.5), 2)}, 95 % ${percent(quantile(relative, 0.95), 2)}`;
  const n = lengths.length;
  if (!within) return { what, n, figure: spread };
  const good = share(lengths.map(({ truth }, i) => (off[i] as number) <= Math.max(within.share * truth, within.mm)));
  const limit = `${percent(within.share, 2)}${within.mm ? ` or ${within.mm} mm` : ''}`;
  return {
    what,
    n,
    figure: `${percent(good, 1)} within ${limit}; ${spread}`,
    reach: percent(within.reach),
    met: good >= within.reach,
  };
}

/** Whether the ± (two sigma) covers the truth without being so wide that it says nothing. */
function doubtRow(what: string, lengths: readonly Length[]): Row {
  const off = lengths.map(({ said, truth }) => said - truth);
  const inside = share(lengths.map(({ plusMinus }, i) => Math.abs(off[i] as number) <= plusMinus));
  const ratio = rms(lengths.map(({ plusMinus }) => plusMinus)) / rms(off);
  return {
    what,
    n: lengths.length,
    figure: `${percent(inside)} inside, ${ratio.toFixed(1)} times the error`,
    reach: '90 %, 3 times',
    met: inside >= 0.9 && ratio <= 3,
  };
}
