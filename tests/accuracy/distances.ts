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

interface Trial {
  readonly what: string;
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
export function heightsOf(s: Subject): NonNullable<Scale['heights']> {
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

const TRIALS: readonly Trial[] = [
  {
    what: 'four markers, places unknown, flat',
    on: (s) => marked(s) && flat(s),
    scale: markers,
    within: within(0.0012, 1.2, 0.95),
  },
  {
    what: 'the same, warped, nothing more',
    on: (s) => marked(s) && warped(s),
    scale: markers,
    within: within(0.002, 2, 0.7),
  },
  {
    what: 'the same with heights',
    on: (s) => marked(s) && warped(s),
    scale: (s) => ({ ...markers(s), heights: heightsOf(s) }),
    within: within(0.002, 2, 0.92),
  },
  {
    what: 'the same with heights and one tape distance',
    on: (s) => marked(s) && warped(s),
    scale: (s) => ({ ...markers(s), heights: heightsOf(s), distances: [tape(s)] }),
    within: within(0.002, 2, 0.99),
  },
  { what: 'leaves, markers on the bench 3 mm lower', on: isLeaf, scale: (s) => ({ ...markers(s), drop: 3 }) },
  {
    what: 'one sheet, lens given, flat',
    on: (s) => kindOf(s) === 'sheet' && flat(s),
    scale: (s) => ({ ...sheet(s), lens: lensOf(s) }),
    within: within(0.004, 0, 0.95),
  },
  { what: 'one sheet, lens unknown, flat', on: (s) => kindOf(s) === 'sheet' && flat(s), scale: sheet },
  {
    what: 'one sheet, lens given, warped',
    on: (s) => kindOf(s) === 'sheet' && warped(s),
    scale: (s) => ({ ...sheet(s), lens: lensOf(s) }),
  },
  {
    what: 'rods with marks and edges, flat',
    on: (s) => kindOf(s) === 'stick' && flat(s),
    scale: rods,
    within: within(0.0045, 0, 0.95),
  },
  { what: 'rods with marks and edges, warped', on: (s) => kindOf(s) === 'stick' && warped(s), scale: rods },
];

export async function distances(cv: Cv, all: readonly Subject[]): Promise<Row[]> {
  const rows: Row[] = [];
  for (const trial of TRIALS) {
    const lengths: Length[] = [];
    for (const s of all.filter(trial.on)) {
      const scale = trial.scale(s);
      const given = new Set((scale.distances ?? []).map(({ px }) => String(px)));
      try {
        const view = measure(
          calibrate(cv, await s.photo(), scale, s.focal35 === undefined ? {} : { exifFocal35: s.focal35 }),
        );
        for (const { a_px, b_px, plan_mm } of s.truth.check_distances) {
          const seen = view.distance(a_px, b_px);
          if (given.has(String([a_px, b_px])) || !seen) continue;
          lengths.push({ said: seen.mm, truth: plan_mm, plusMinus: 2 * seen.sigma });
        }
      } catch (fault) {
        if (!(fault instanceof InputProblem)) throw fault;
        console.error(`${s.name}: ${fault.message}`);
      }
    }
    rows.push(...rowsOf(trial, lengths));
  }
  return rows;
}

function rowsOf({ what, within }: Trial, lengths: readonly Length[]): Row[] {
  if (lengths.length === 0) return [];
  const off = lengths.map(({ said, truth }) => said - truth);
  const relative = lengths.map(({ truth }, i) => Math.abs(off[i] as number) / truth);
  const n = lengths.length;
  const spread = `median ${percent(quantile(relative, 0.5), 2)}, 95 % ${percent(quantile(relative, 0.95), 2)}`;
  const good =
    within &&
    share(lengths.map(({ truth }, i) => Math.abs(off[i] as number) <= Math.max(within.share * truth, within.mm)));
  const inside = share(lengths.map(({ plusMinus }, i) => Math.abs(off[i] as number) <= plusMinus));
  const ratio = rms(lengths.map(({ plusMinus }) => plusMinus)) / rms(off);
  return [
    {
      what,
      n,
      figure:
        good === undefined
          ? spread
          : `${percent(good)} within ${percent(within?.share ?? 0, 2)}${within?.mm ? ` or ${within.mm} mm` : ''}; ${spread}`,
      ...(within && good !== undefined && { reach: percent(within.reach), met: good >= within.reach }),
    },
    {
      what: '  its ±',
      n,
      figure: `${percent(inside)} inside, ${ratio.toFixed(1)} times the error`,
      reach: '90 %, 3 times',
      met: inside >= 0.9 && ratio <= 3,
    },
  ];
}
