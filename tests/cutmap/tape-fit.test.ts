import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointAt, trilaterate } from '../../src/cutmap';
import { measuresOf, type SlabMeasures } from '../../src/cutmap/measures';
import { edgeChecks } from '../../src/cutmap/spots';
import { tapeVerdict } from '../../src/cutmap/tape-fit';
import { type Taped, type TapeLength, tapeLengths } from '../../src/cutmap/tape-lengths';
import { distance, type Point, type Polygon } from '../../src/geometry';
import { seededRandom } from '../../src/search';
import { inventedReport } from './invented';

/** Slabs marked out on real wood: what may go wrong is done to them, and the tape is read off the wood. */

const slabs = Array.from({ length: 6 }, (_, i) => inventedReport(i + 1).report.slabs).flat();
/** A marked slab with its edge. */
interface Marked {
  readonly measures: SlabMeasures;
  readonly outline: Polygon<'face'>;
}
const all = slabs.flatMap((slab): Marked[] => {
  const measures = measuresOf(slab);
  return measures ? [{ measures, outline: slab.outline.outer }] : [];
});
const lengthsOf = ({ measures, outline }: Marked) => tapeLengths(measures, outline);
const BEFORE = { scaleSigma: 0.001, seen: false };

interface Wrong {
  /** The wood is larger than the photo said, as a share. */
  readonly scale?: number;
  readonly marks?: Readonly<Partial<Record<'A' | 'B', readonly [number, number]>>>;
  readonly points?: Readonly<Record<string, readonly [number, number]>>;
  readonly read?: (length: TapeLength, mm: number) => number;
  /** One standard deviation of each tape, of each mark as drilled, and of a live edge, mm. */
  readonly noise?: {
    readonly random: () => number;
    readonly tape: number;
    readonly drill: number;
    readonly edge: number;
  };
}

const gauss = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** The slab as it was really marked, taped: by the printed distances from the marks as drilled, nothing linear about it. */
function taped(marked: Marked, wrong: Wrong, lengths = lengthsOf(marked)): Taped[] {
  const { measures } = marked;
  const edge = marked.outline.map(
    ([x, y]): Point<'face'> => [x * (1 + (wrong.scale ?? 0)), y * (1 + (wrong.scale ?? 0))],
  );
  const { scale = 0, noise } = wrong;
  const slip = (sigma: number): number => (noise ? sigma * gauss(noise.random) : 0);
  const wood = ([x, y]: Point<'face'>): Point<'face'> => [x * (1 + scale), y * (1 + scale)];
  const moved = ([x, y]: Point<'face'>, [dx, dy]: readonly [number, number], sigma: number): Point<'face'> => [
    x + dx + slip(sigma),
    y + dy + slip(sigma),
  ];
  const drilled = (['A', 'B'] as const).map((name, i) =>
    moved(wood(measures.datum[i]!), wrong.marks?.[name] ?? [0, 0], noise?.drill ?? 0),
  ) as [Point<'face'>, Point<'face'>];
  const places = new Map([
    ['A', drilled[0]],
    ['B', drilled[1]],
    ...measures.points.map(({ label, tapes, offsets, flat }): [string, Point<'face'>] => {
      const tape = noise?.tape ?? 0;
      const set = flat
        ? pointAt(drilled, offsets)
        : trilaterate(
            drilled,
            { fromA: tapes.fromA + slip(tape), fromB: tapes.fromB + slip(tape) },
            offsets.inward >= 0 ? 'right' : 'left',
          );
      return [label, moved(set, wrong.points?.[label] ?? [0, 0], 0)];
    }),
  ]);
  return lengths.map((length) => {
    const from = places.get(length.from)!;
    const { across, alongside } = edgeChecks(edge, from);
    const foot = [across, alongside].find((check) => check?.edge === length.to)?.at;
    const to = places.get(length.to) ?? foot ?? wood(length.ends[1]);
    const mm = distance(from, to) + slip(noise?.tape ?? 0) + (length.kind === 'edge' ? slip(noise?.edge ?? 0) : 0);
    return { ...length, read: wrong.read?.(length, mm) ?? mm };
  });
}

const usual = (seed: number) => ({ random: seededRandom(seed).next, tape: 0.7, drill: 0.8, edge: 1.5 });

describe('what the tape says', () => {
  it('finds a marking right that is as good as hands make it, on 12 slabs five times each', () => {
    const verdicts = all.flatMap((marked, i) =>
      [0, 1, 2, 3, 4].map(
        (k) => tapeVerdict(taped(marked, { noise: usual(7 * i + k + 1) }), marked.measures, BEFORE).says,
      ),
    );
    expect(verdicts.filter((says) => says === 'right').length / verdicts.length).toBeGreaterThan(0.93);
    expect(tapeVerdict([], all[0]!.measures, BEFORE).says).toBe('none');
  });

  it('says how much larger the wood is than the photo said, with a ± that holds', () => {
    const found = all.flatMap((marked, i) =>
      [-0.015, 0.02].map((scale, k) => ({
        scale,
        verdict: tapeVerdict(taped(marked, { scale, noise: usual(31 * i + k) }), marked.measures, BEFORE),
      })),
    );
    const named = found.filter(({ verdict }) => verdict.suspects[0]?.kind === 'photo');
    // Now and then the slips of a hand make a mark that is off look likelier; the photo is then named behind it.
    expect(named.length / found.length).toBeGreaterThan(0.7);
    const suspected = found.filter(({ verdict }) => verdict.suspects.some(({ kind }) => kind === 'photo'));
    expect(suspected.length / found.length).toBeGreaterThan(0.8);
    const inside = named.filter(({ scale, verdict: { suspects } }) => {
      const photo = suspects[0] as Extract<(typeof suspects)[number], { kind: 'photo' }>;
      return Math.abs(photo.share - scale) <= 2 * photo.sigma;
    });
    expect(inside.length / named.length).toBeGreaterThan(0.9);
  });

  it('names the point that was set wrong, and by how much', () => {
    const found = all.flatMap((marked, i) =>
      marked.measures.points
        .filter(({ kind }) => kind === 'cut')
        .map(({ label, at }, k) => {
          const middle = marked.measures.points.reduce((sum, p) => sum + p.at[0], 0);
          const out = Math.sign(at[0] - middle / marked.measures.points.length);
          const points = { [label]: [out * 18, 10] as const };
          const { suspects } = tapeVerdict(
            taped(marked, { points, noise: usual(57 * i + k) }),
            marked.measures,
            BEFORE,
          );
          return suspects.some((one) => one.kind === 'point' && one.label === label);
        }),
    );
    expect(found.filter(Boolean).length / found.length).toBeGreaterThan(0.85);
  });

  it('names a mark that was drilled elsewhere, exactly where the tape is exact', () => {
    const found = all.map((marked) => {
      const { suspects } = tapeVerdict(taped(marked, { marks: { B: [30, 4] } }), marked.measures, BEFORE);
      const [mark] = suspects;
      return mark?.kind === 'mark' && mark.label === 'B' && Math.hypot(mark.by[0] - 30, mark.by[1] - 4) < 1.5;
    });
    // An edge with a step in it, where the tape met another part of it, is the exception.
    expect(found.filter(Boolean).length / found.length).toBeGreaterThan(0.9);
  });

  it('names a reading that was misread by a round number', () => {
    const found = all.map((marked) => {
      const lengths = lengthsOf(marked);
      const chosen = lengths[1]!;
      const read = (length: TapeLength, mm: number) => (length === chosen ? mm + 100 : mm);
      const { suspects } = tapeVerdict(taped(marked, { read }, lengths), marked.measures, BEFORE);
      return suspects.some((one) => one.kind === 'reading' && one.index === 1 && Math.abs(one.mm - 100) < 3);
    });
    expect(found.filter(Boolean).length / found.length).toBeGreaterThan(0.9);
  });

  it('refuses readings that no one cause explains, and says how far apart they are', () => {
    for (const marked of all) {
      const read = (length: TapeLength, mm: number) =>
        mm + (length.kind === 'marks' ? 60 : length.kind === 'points' ? -45 : 0);
      const { says, worst } = tapeVerdict(taped(marked, { read }), marked.measures, BEFORE);
      expect(says).toBe('apart');
      expect(Math.abs(worst!.mm)).toBeGreaterThan(5);
    }
  });

  it('takes one reading that is off for the photo, or a slip, and never for right', () => {
    fc.assert(
      fc.property(fc.nat(all.length - 1), fc.double({ min: 0.01, max: 0.03, noNaN: true }), (k, share) => {
        const marked = all[k]!;
        const [line] = lengthsOf(marked);
        const verdict = tapeVerdict([{ ...line!, read: line!.mm * (1 + share) }], marked.measures, {
          ...BEFORE,
          seen: true,
        });
        expect(verdict.says).toBe('suspects');
        expect(verdict.suspects[0]).toMatchObject({ kind: 'photo' });
        expect(verdict.suspects[0]).toHaveProperty('share', expect.closeTo(share, 2));
      }),
      { numRuns: 60 },
    );
  });
});
