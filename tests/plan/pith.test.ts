import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyAll, type Point, type Polygon, rectangle } from '../../src/geometry';
import type { Flitch, Slab } from '../../src/job';
import { fromFarFace } from '../../src/layout';
import { pithWords } from '../../src/plan';
import { pithHeld } from '../../src/plan/pith-held';
import { wavyJob } from '../support/wavy-slabs';

/** Which blanks hold the log's pith: by its line, by the slab's place in the log, by the eye. */
const LENGTH = 2600;
const rough = rectangle<'face'>(200, 100, 2200, 400);

/** Slabs of one log by their widths; the log is widest at its middle. */
function flitchOf(...widths: number[]): Flitch {
  const job = wavyJob(
    widths.map((width) => ({ length: LENGTH, width, swing: 0, thickness: 54 })),
    {},
  );
  return job.flitches.log as Flitch;
}

const lineAt = (y: number): Point<'face'>[] => [
  [0, y],
  [LENGTH, y],
];

/** A flitch with what is told of the pith on one slab. */
function told(widths: number[], place: number, change: (slab: Slab) => void) {
  const flitch = structuredClone(flitchOf(...widths));
  const slab = flitch.slabs[`slab-${place}`];
  if (!slab) throw new Error('There is no such slab.');
  change(slab);
  return { flitch, slab };
}

const held = (
  widths: number[],
  place: number,
  change: (slab: Slab) => void,
  blank: Polygon<'face'> = rough,
): boolean | null => {
  const { flitch, slab } = told(widths, place, change);
  return pithHeld(flitch, slab, 'top', blank)?.sure ?? null;
};

const drawn =
  (y: number) =>
  (slab: Slab): void => {
    slab.faces.top.pith = lineAt(y);
  };

/** The middle slab of three holds the log's middle; from five, the outer ones lie two slabs away from it. */
const THREE = [420, 500, 420];
const FIVE = [320, 440, 500, 440, 320];

describe('a blank holds the pith', () => {
  test('where its line, as it was corrected, crosses it in the slab that holds the middle of the log', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 500 }), (y) => {
        const inside = y > 101 && y < 399;
        if (Math.abs(y - 100) > 1 && Math.abs(y - 400) > 1) expect(held(THREE, 2, drawn(y))).toBe(inside ? true : null);
      }),
    );
  });

  test('maybe, where nobody can say how deep the line lies under the face; not in a slab far from the middle', () => {
    expect(held([480], 1, drawn(240))).toBe(false);
    expect(held(FIVE, 1, drawn(160))).toBeNull();
    expect(held(FIVE, 3, drawn(240))).toBe(true);
  });

  test('maybe, where no face shows it but the slab holds the middle of the log and the blank that of the slab', () => {
    expect(held(THREE, 2, () => {})).toBe(false);
    expect(held(THREE, 2, () => {}, rectangle<'face'>(200, 300, 2200, 480))).toBeNull();
    expect(held(FIVE, 1, () => {})).toBeNull();
  });

  test('where somebody saw it in the wood, whatever the widths say', () => {
    const seen = (slab: Slab): void => {
      const polygon = rectangle<'face'>(900, 150, 1100, 160);
      slab.faces.top.defects = { d1: { id: 'd1', kind: 'pith', permit: 'avoid', polygon } };
    };
    expect(held(FIVE, 1, seen)).toBe(true);
  });

  test('just so where only the underside shows its line, however that face lies in its own frame', () => {
    const turns = fc.record({
      turn: fc.double({ min: -3, max: 3, noNaN: true }),
      dx: fc.integer({ min: -400, max: 400 }),
      y: fc.constantFrom(50, 150, 250, 350, 450),
    });
    fc.assert(
      fc.property(turns, ({ turn, dx, y }) => {
        const top: Point<'face'>[] = [
          [300, 60],
          [2300, 90],
        ];
        const below = top.map(([px, py]) => [
          Math.cos(turn) * px + Math.sin(turn) * py + dx,
          Math.sin(turn) * px - Math.cos(turn) * py,
        ]);
        const tie = { top, bottom: below } as unknown as NonNullable<Slab['tie']>;
        const down = fromFarFace({ top: tie.bottom, bottom: tie.top } as unknown as typeof tie);
        const from = held(THREE, 2, (slab) => {
          slab.tie = tie;
          slab.faces.bottom.pith = applyAll<'face', 'face'>(down, lineAt(y));
        });
        expect(from).toBe(held(THREE, 2, drawn(y)));
      }),
    );
  });

  test('and says by how much more it shrinks around it (Wood Handbook Table 4-3: black walnut 7.8 and 5.5 %)', () => {
    const { flitch, slab } = told(THREE, 2, drawn(250));
    const pith = pithHeld(flitch, slab, 'top', rough);
    expect(pith?.ratio).toBeCloseTo(7.8 / 5.5, 6);
    expect(pith && pithWords(pith)).toContain('1.4 times');
  });
});
