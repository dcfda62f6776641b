import { describe, expect, it } from 'vitest';
import { flatten, flattenInput } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { checked } from '../../src/job';
import examples from '../fixtures/worked_examples.json';

/** The trade's own arithmetic: thicknesses of slabs told by bow, cup and twist alone (trade notes, section 5, derived and checked). */

interface Told {
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly bow: number;
  readonly cup: number;
  readonly twist: number;
}

/** Thickest board of a blank in the slab's middle, and of the whole slab. */
function thickest(warp: Told, length: number, width: number): { blank: number; whole: number } {
  const polygon = rectangle<'face'>(-length / 2, -width / 2, length / 2, width / 2);
  const { blanks, whole } = flatten(checked(flattenInput, { warp, blanks: [{ id: 'blank', polygon }] }));
  return { blank: blanks[0]?.thickest as number, whole: whole.thickest };
}

/** 'bow 6 + cup 5 opposite (saddle)' as numbers. */
function told(words: string): Told {
  const mm = (pattern: RegExp): number => Number(pattern.exec(words)?.[1] ?? 0);
  const cup = mm(/cup (?:c=)?([\d.]+)/);
  return {
    length: 2400,
    width: 900,
    thickness: 50,
    bow: mm(/bow (?:s=)?([\d.]+)/),
    cup: words.includes('opposite') ? -cup : cup,
    twist: mm(/twist t=([\d.]+)/),
  };
}

describe('what a warp costs: F = T - phi (worked_examples.json, flat:*)', () => {
  const cases = examples.examples.filter(({ id }) => id.startsWith('flat:'));
  it('has cases', () => expect(cases.length).toBe(11));
  for (const { id, inputs, published_output, tolerance } of cases as unknown as FlatCase[]) {
    it(id, () => {
      const warp = told(inputs.case);
      const phi = warp.thickness - thickest(warp, warp.length, warp.width).blank;
      expect(Math.abs(phi - published_output.phi_formula)).toBeLessThan(tolerance.phi);
    });
  }
});

interface FlatCase {
  readonly id: string;
  readonly inputs: { readonly case: string };
  readonly published_output: { readonly phi_formula: number };
  readonly tolerance: { readonly phi: number };
}

describe('the trade notes, section 5', () => {
  const even = { length: 2400, width: 900, thickness: 50, bow: 0, cup: 0, twist: 0 };

  it('half the length leaves a quarter of the bow, half the width a quarter of the cup, half of either half the twist', () => {
    expect(thickest({ ...even, bow: 6 }, 1200, 900).blank).toBeCloseTo(50 - 6 / 4, 3);
    expect(thickest({ ...even, cup: 5 }, 2400, 450).blank).toBeCloseTo(50 - 5 / 4, 3);
    expect(thickest({ ...even, twist: 12 }, 1200, 900).blank).toBeCloseTo(50 - 12 / 4, 3);
    expect(thickest({ ...even, twist: 12 }, 2400, 450).blank).toBeCloseTo(50 - 12 / 4, 3);
  });

  it('bow and cup cost the same, whichever way they bend', () => {
    for (const [bow, cup] of [
      [6, 5],
      [-6, 5],
      [6, -5],
      [-6, -5],
    ] as const) {
      expect(thickest({ ...even, bow, cup }, 2400, 900).blank).toBeCloseTo(50 - 11, 3);
    }
  });

  it('shims the two high corners of a twist alike: it costs half the lift, not all of it', () => {
    const polygon = rectangle<'face'>(-1200, -450, 1200, 450);
    const { blanks } = flatten(checked(flattenInput, { warp: { ...even, twist: 12 }, blanks: [{ id: 'b', polygon }] }));
    // Corners stand a quarter of the twist over and under the middle: two lie on the bench, two 6 mm over it.
    const heights = blanks[0]?.shims.map(({ at: [x, y], height }) => [Math.sign(x * y), height] as const) ?? [];
    expect(heights).toHaveLength(4);
    for (const [side, height] of heights) expect(height).toBeCloseTo(side > 0 ? 6 : 0, 3);
  });
});

describe('the trade notes, section 11', () => {
  it('a: 2,600 x 560 x 54 with bow 9, cup 4, twist 3, crosscut to 2,250', () => {
    const warp = { length: 2600, width: 560, thickness: 54, bow: 9, cup: 4, twist: 3 };
    const polygon = rectangle<'face'>(-1125, -280, 1125, 280);
    const { blanks, whole } = flatten(
      checked(flattenInput, { warp, blanks: [{ id: 'a', polygon }], reserve: { second: 3, level: 1 }, sanding: 1 }),
    );
    const [blank] = blanks;
    expect(blank?.thickest).toBeCloseTo(54 - 11.39, 1);
    expect(whole.thickest).toBeCloseTo(40.25, 2);
    expect(blank?.budget.at(-1)).toMatchObject({ item: 'finished', mm: expect.closeTo(37.6, 1) });
    for (const { passes } of blank?.faces ?? []) for (const { depth } of passes) expect(depth).toBeLessThanOrEqual(3);
    expect(thickest({ ...warp, cup: -4 }, 2250, 560).blank).toBeCloseTo(43.2, 1);
  });

  it('b: two strips of a counter of 38: ripped they pass, crosscut alone or whole they fail', () => {
    const a = { length: 2600, width: 560, thickness: 54, bow: 9, cup: 4, twist: 3 };
    const b = { length: 2600, width: 540, thickness: 52, bow: 6, cup: 5, twist: 8 };
    expect(thickest(a, 2250, 380).blank).toBeCloseTo(44.98, 2);
    const ripped = thickest(b, 2250, 320);
    expect(ripped.blank).toBeCloseTo(44.73, 2);
    expect(ripped.whole - 5).toBeCloseTo(34.0, 1);
    expect(thickest(b, 2250, 540).blank).toBeCloseTo(40.78, 2);
  });
});
