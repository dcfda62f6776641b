import { bounds, crossingsAtX, type Point, type Polygon } from '../../src/geometry';
import { type Job, type Scale, type Slab, slabKey } from '../../src/job';
import { type Carries, carriesOf } from '../../src/layout';
import { type Cv, calibrate, outlineDoubt } from '../../src/photo';
import { type Measure, measure } from '../../src/photo/measure';
import type { Raster } from '../../src/raster';
import { type Random, seededRandom } from '../../src/search';
import { InputProblem } from '../../src/units';
import { tapedJob } from '../support/taped';
import { heightOf, projected, type Subject, woodOf } from './photos';
import { percent, quantile, type Row, share } from './table';
import { renderedJob, trulyCarries } from './yard';

/**
 * One photo with nothing laid on the slab (cards, sheets and rods in it are not looked at), measured by the slab's own length and three widths as a clumsy
 * hand tapes and taps them: check distances, the wood's outline, and what slabs are said to carry, against the truth.
 */

/** One standard deviation of the hand: taps, px; where along an edge each lands, and where across an end, mm; length and widths by tape, mm. */
const HAND = { tap: 4, along: 25, end: 20, length: 3, width: 3 };
/** Hands that tape and tap each photo. */
const HANDS = 3;
/** Where the widths are taped, as shares of the length. */
const AT = [0.1, 0.5, 0.9] as const;

type SlabScale = Extract<Scale, { kind: 'slab' }>;

/** What that hand types and taps of a photo's slab. */
function tapped(s: Subject, random: Random): SlabScale {
  const wood = woodOf(s);
  const { minX, maxX } = bounds(wood);
  const about = (value: number, sigma: number) => value + sigma * random.normal();
  const tap = ([x, y]: Point<'face'>): Point<'photo'> => {
    const [u, v] = projected(s, [x, y], -heightOf(s, [x, y]));
    return [about(u, HAND.tap), about(v, HAND.tap)];
  };
  const edges = (x: number) => {
    const ys = crossingsAtX(wood, x);
    return [ys[0] as number, ys.at(-1) as number] as const;
  };
  const end = (x: number, of: 0 | -1): Point<'face'> => {
    const [a, b] = edges(x);
    const y = about((a + b) / 2, HAND.end);
    return [crossingsAtY(wood, y).at(of) as number, y];
  };
  const [left, right] = [end(minX + 60, 0), end(maxX - 60, -1)];
  const widths = AT.map((place) => {
    const x = minX + place * (maxX - minX);
    const [a, b] = edges(x);
    const [from, to] = [about(x, HAND.along), about(x, HAND.along)];
    return { px: [tap([from, edges(from)[0]]), tap([to, edges(to)[1]])], mm: Math.round(about(b - a, HAND.width)) };
  });
  const length = Math.hypot(right[0] - left[0], right[1] - left[1]);
  return {
    kind: 'slab',
    length: { px: [tap(left), tap(right)], mm: Math.round(about(length, HAND.length)) },
    widths: widths as SlabScale['widths'],
  };
}

function crossingsAtY(ring: Polygon<'face'>, y: number): number[] {
  const turned = ring.map(([px, py]): Point<'face'> => [py, px]);
  return crossingsAtX(turned, y);
}

interface Hand {
  readonly s: Subject;
  readonly view: Measure;
  /** The wood's true edge as this photo has it, and its doubt by the camera, mm. */
  readonly outer: Polygon<'face'>;
  readonly doubt: number;
}

/** Rows of the table. */
export async function slabPhotos(cv: Cv, all: readonly Subject[], folder: string): Promise<Row[]> {
  const photos = all.filter(({ name }) => !name.startsWith('leaves'));
  const rows: Row[] = [];
  for (const lens of ['given', 'by EXIF'] as const) {
    const hands: Hand[] = [];
    let refused = 0;
    for (const [i, s] of photos.entries()) {
      const photo = await s.photo();
      for (let n = 0; n < HANDS; n++) {
        const hand = measured(cv, s, photo, seededRandom(7000 + 10 * i + n), lens === 'given');
        if (hand) hands.push(hand);
        else refused++;
      }
    }
    rows.push(...(await rowsOf(`lens ${lens}`, hands, refused, folder)));
  }
  return rows;
}

/** A photo measured by one hand; null where it is refused. */
function measured(cv: Cv, s: Subject, photo: Raster, random: Random, lensGiven: boolean): Hand | null {
  const { K, dist } = s.truth.camera;
  const lens = { focal: (K[0]?.[0] as number) / 4000, k1: dist[0] as number };
  const scale: SlabScale = { ...tapped(s, random), ...(lensGiven && { lens }) };
  try {
    const exif = s.focal35 === undefined ? {} : { exifFocal35: s.focal35 };
    const calibration = calibrate(cv, photo, scale, exif);
    const view = measure(calibration);
    const places = woodOf(s).map((p) => view.place(projected(s, p, -heightOf(s, p))));
    const outer = places.filter((at) => at !== null);
    return { s, view, outer, doubt: outlineDoubt(scale, calibration, outer) };
  } catch (error) {
    if (error instanceof InputProblem) return null;
    throw error;
  }
}

async function rowsOf(told: string, hands: readonly Hand[], refused: number, folder: string): Promise<Row[]> {
  const lengths = hands.flatMap(({ s, view }) =>
    s.truth.check_distances.flatMap(({ a_px, b_px, plan_mm }) => {
      const seen = view.distance(a_px, b_px);
      return seen ? [{ off: Math.abs(seen.mm - plan_mm), plusMinus: 2 * seen.sigma }] : [];
    }),
  );
  const inside = share(lengths.map(({ off, plusMinus }) => off <= plusMinus));
  const widths = hands.flatMap(({ s, view }) => acrossOff(s, view));
  const judged = await verdicts(hands, folder);
  const said = (says: Carries['says']) => judged.filter((one) => one.says === says);
  return [
    { what: `${told}: refused`, n: hands.length + refused, figure: percent(refused / (hands.length + refused)) },
    {
      what: `${told}: check distances inside their ±`,
      n: lengths.length,
      figure: `${percent(inside)}; off by ${quantile(
        lengths.map(({ off }) => off),
        0.5,
      ).toFixed(0)} mm, 95 % ${quantile(
        lengths.map(({ off }) => off),
        0.95,
      ).toFixed(0)}`,
      reach: '95 %',
      met: inside >= 0.95,
    },
    {
      what: `${told}: width of the wood at every tenth of its length, off, median / 95 %`,
      n: widths.length,
      figure: `${quantile(widths, 0.5).toFixed(1)} / ${quantile(widths, 0.95).toFixed(1)} mm`,
    },
    {
      what: `${told}: one standard deviation that the outline is given, median / most`,
      n: hands.length,
      figure: `${quantile(
        hands.map(({ doubt }) => doubt),
        0.5,
      ).toFixed(1)} / ${Math.max(...hands.map(({ doubt }) => doubt)).toFixed(1)} mm`,
    },
    ...(['carries', 'may', 'cannot'] as const).map((says) => ({
      what: `${told}: ${says === 'carries' ? 'said to carry' : says === 'may' ? 'left open' : 'said not to'}, and does`,
      n: said(says).length,
      figure: percent(share(said(says).map(({ truly }) => truly))),
    })),
  ];
}

/** By how much the width of the wood is off at every tenth of its length, mm. */
function acrossOff(s: Subject, view: Measure): number[] {
  const wood = woodOf(s);
  const { minX, maxX } = bounds(wood);
  return [1, 2, 3, 4, 5, 6, 7, 8, 9].flatMap((tenth) => {
    const x = minX + (tenth / 10) * (maxX - minX);
    const ys = crossingsAtX(wood, x);
    const [a, b] = [ys[0] as number, ys.at(-1) as number];
    const [p, q] = [a, b].map((y) => projected(s, [x, y], -heightOf(s, [x, y]))) as [Point<'photo'>, Point<'photo'>];
    const seen = view.distance(p, q);
    return seen ? [Math.abs(seen.mm - (b - a))] : [];
  });
}

/** What each slab is said to carry alone by its outline from such a photo, its taped edges and string, and whether it does. */
async function verdicts(hands: readonly Hand[], folder: string): Promise<{ says: Carries['says']; truly: boolean }[]> {
  const judged: { says: Carries['says']; truly: boolean }[] = [];
  for (const flitch of ['demo', 'rack']) {
    const job = renderedJob(folder, flitch);
    if (!job) continue;
    const known = new Map<string, boolean>();
    for (const [i, { s, outer, doubt }] of hands.entries()) {
      const name = /^(demo|rack)\/(s\d)/.exec(s.name);
      if (name?.[1] !== flitch) continue;
      const key = slabKey(flitch, name[2] as string);
      const taped = byPhoto(tapedJob(job, seededRandom(i)), flitch, name[2] as string, outer, doubt);
      for (const { top, says } of carriesOf(taped, [[key]])) {
        const question = `${key}/${top}`;
        const truly = known.get(question) ?? (await trulyCarries(job, [key], top));
        known.set(question, truly);
        judged.push({ says, truly });
      }
    }
  }
  return judged;
}

function byPhoto(job: Job, flitch: string, name: string, outer: Polygon<'face'>, outlineSigma: number): Job {
  const slab = job.flitches[flitch]?.slabs[name] as Slab;
  slab.faces.top = { ...slab.faces.top, outline: { outer, holes: [] }, outlineSigma };
  return job;
}
