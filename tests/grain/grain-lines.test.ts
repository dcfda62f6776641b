import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry';
import { withGrainLines } from '../../src/grain';
import type { GrainField } from '../../src/grain/joint-types';

/** A field read as one direction all over, 400 by 200 mm from (0, 0), its last column without wood. */
function field(degrees: number, coherence = 0.6): GrainField {
  const [columns, rows] = [41, 21];
  const angles = new Float32Array(columns * rows).fill(degrees);
  for (let r = 0; r < rows; r++) angles[r * columns + columns - 1] = Number.NaN;
  return {
    step: 10,
    x0: 0,
    y0: 0,
    columns,
    rows,
    angles,
    coherence: new Float32Array(angles.length).fill(coherence),
    spacing: new Float32Array(angles.length).fill(4),
  };
}

const at = ({ columns, step, angles }: GrainField, x: number, y: number): number =>
  angles[Math.round(y / step) * columns + Math.round(x / step)] as number;
/** Degrees between two directions without sense. */
const between = (a: number, b: number): number => {
  const turn = Math.abs(a - b) % 180;
  return Math.min(turn, 180 - turn);
};

describe('lines drawn along the grain', () => {
  it('are its direction where they lie, whatever was read', () => {
    const degrees = fc.integer({ min: -90, max: 90 });
    fc.assert(
      fc.property(degrees, degrees, (read, drawn) => {
        const a = (drawn * Math.PI) / 180;
        const line: Point<'face'>[] = [-150, 150].map((s) => [200 + s * Math.cos(a), 100 + s * Math.sin(a)]);
        const seen = withGrainLines(field(read), [line]);
        expect(between(at(seen, 200, 100), drawn)).toBeLessThan(0.01);
      }),
    );
  });

  it('fade out: half of a small turn midway, nothing from 40 mm on', () => {
    const line: Point<'face'>[] = [
      [0, 100],
      [400, 100],
    ];
    const seen = withGrainLines(field(8, 1), [line]);
    const turns = [0, 10, 20, 30, 40].map((off) => at(seen, 200, 100 + off));
    expect(turns[0]).toBeCloseTo(0, 3);
    expect(turns[1]).toBeCloseTo(0, 1);
    expect(turns[4]).toBe(8);
    for (let i = 1; i < 5; i++) expect(turns[i]).toBeGreaterThanOrEqual(turns[i - 1] as number);
    // 25 mm off is midway between 10 and 40.
    expect(((turns[2] as number) + (turns[3] as number)) / 2).toBeCloseTo(4, 0);
    expect(at(seen, 200, 180)).toBe(8);
  });

  it('say the same drawn from either end, or in pieces', () => {
    const line: Point<'face'>[] = [
      [40, 60],
      [180, 90],
      [330, 80],
    ];
    const once = withGrainLines(field(-20), [line]);
    expect(withGrainLines(field(-20), [[...line].reverse()]).angles).toEqual(once.angles);
    const pieces = withGrainLines(field(-20), [line.slice(0, 2), line.slice(1)]);
    expect(pieces.angles).toEqual(once.angles);
  });

  it('across the jump from 90 to -90 turn the short way', () => {
    const a = (-86 * Math.PI) / 180;
    const line: Point<'face'>[] = [-90, 90].map((s) => [200 + s * Math.cos(a), 100 + s * Math.sin(a)]);
    const seen = withGrainLines(field(86, 1), [line]);
    for (let x = 160; x <= 240; x += 10) expect(between(at(seen, x, 100), 90)).toBeLessThanOrEqual(4.01);
  });

  it('leave alone what holds no wood, the spacing, and the field that was given', () => {
    const before = field(30);
    const line: Point<'face'>[] = [
      [300, 100],
      [400, 100],
    ];
    const seen = withGrainLines(before, [line]);
    expect(at(seen, 400, 100)).toBeNaN();
    expect(seen.spacing).toEqual(before.spacing);
    expect(at(before, 350, 100)).toBe(30);
    expect(at(seen, 350, 100)).toBeCloseTo(0, 3);
    expect(withGrainLines(before, [])).toBe(before);
    expect(withGrainLines(before, [[[5, 5]]])).toBe(before);
  });
});
