import fc from 'fast-check';
import DistanceOp from 'jsts/org/locationtech/jts/operation/distance/DistanceOp.js';
import { describe, expect, test } from 'vitest';
import { checked } from '../../src/job';
import { type HandKey, KeyRoom, kept, keysInput, placeKeys, takenInHand } from '../../src/keys';
import { shape } from './jts';
import { base, crack, medium, outside, type Ring } from './top';

/** A crack of three pieces somewhere about the middle of the plain top, on one face or both, its trace below known or not, with a knot beside it. */
const tops = fc
  .record({
    x: fc.integer({ min: 200, max: 700 }),
    y: fc.integer({ min: 200, max: 440 }),
    bends: fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: -40, max: 40 }))),
    pieces: fc.tuple(...[0, 1, 2].map(() => fc.integer({ min: 90, max: 400 }))),
    both: fc.boolean(),
    leans: fc.option(fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }))),
    knot: fc.tuple(fc.integer({ min: 100, max: 500 }), fc.integer({ min: 20, max: 90 })),
  })
  .map(({ x, y, bends, pieces, both, leans, knot: [kx, ky] }) => {
    const line: [number, number, number][] = [[x, y, 1]];
    pieces.forEach((piece, i) => {
      const [px, py] = line.at(-1)!;
      line.push([px + piece, py + (bends[i] as number), 2]);
    });
    const polygon = [
      [x + kx, y + ky],
      [x + kx + 30, y + ky],
      [x + kx + 30, y + ky + 30],
      [x + kx, y + ky + 30],
    ];
    return checked(keysInput, {
      ...base,
      cracks: [
        {
          ...crack(...line),
          faces: both ? 'both' : 'top',
          ...(both && leans ? { far: line.map(([px, py, w], i) => [px, py + leans[i % 2]!, w]) } : {}),
        },
      ],
      defects: [{ kind: 'knot', polygon }],
    });
  });

describe('keys taken in hand', () => {
  test('are given out as they were proposed, and none of them breaks a rule', () => {
    fc.assert(
      fc.property(tops, (input) => {
        const room = new KeyRoom(input);
        const proposed = placeKeys(input);
        const keys = takenInHand(room, proposed.keys);
        const given = room.given(keys);
        const sorted = (all: typeof given.keys) =>
          [...all].sort((a, b) => a.face.localeCompare(b.face) || a.at[0] - b.at[0]);
        expect(given.keys).toHaveLength(proposed.keys.length);
        sorted(given.keys).forEach((key, i) => {
          const was = sorted(proposed.keys)[i]!;
          expect(Math.hypot(key.at[0] - was.at[0], key.at[1] - was.at[1])).toBeLessThan(1e-6);
          expect([key.size, key.depth, key.face]).toEqual([was.size, was.depth, was.face]);
          expect(outside(key.outline, was.outline)).toBeLessThan(1e-3);
        });
        expect(keys.map((_, i) => room.judge(keys, i)!.against)).toEqual(keys.map(() => null));
        expect(given.hold.keys).toBeCloseTo(proposed.hold.keys as number, 3);
        expect(room.holds(keys)).toEqual(given.hold);
      }),
      { numRuns: 25 },
    );
  });

  test('stand off a knot by what is said: the distance that a second polygon library measures', () => {
    fc.assert(
      fc.property(tops, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (input, share) => {
        const room = new KeyRoom(input);
        const key: HandKey = { crack: 0, along: share * room.lengthOf(0), size: 'medium', face: 'top', turn: 0 };
        const judged = room.judge([key], 0)!;
        const off = judged.clearances.find(({ to }) => to === 'a knot');
        const knot = shape(input.defects[0]!.polygon as Ring);
        const measured = DistanceOp.distance(shape(judged.outline as Ring), knot);
        if (off) expect(off.mm).toBeCloseTo(measured, 6);
        else expect(measured).toBeGreaterThan(299);
      }),
      { numRuns: 60 },
    );
  });

  test('a place that is found for one keeps every rule, and nothing nearer does', () => {
    fc.assert(
      fc.property(tops, fc.double({ min: 0, max: 1, noNaN: true }), (input, share) => {
        const room = new KeyRoom(input);
        const key: HandKey = { crack: 0, along: share * room.lengthOf(0), size: 'medium', face: 'top', turn: 0 };
        const at = (along: number) => room.judge([{ ...key, along }], 0)!.against;
        const found = room.nearestFree([key], 0);
        if (found === null) {
          for (let along = 0; along <= room.lengthOf(0); along += 3.7) expect(at(along)).not.toBeNull();
          return;
        }
        expect(at(found)).toBeNull();
        const off = Math.abs(found - key.along);
        for (let d = 0; d < off - 2; d += 2.3)
          for (const along of [key.along - d, key.along + d])
            if (along >= 0 && along <= room.lengthOf(0)) expect(at(along)).not.toBeNull();
      }),
      { numRuns: 25 },
    );
  });

  test('do not lie along the grain of the slab, however they are turned', () => {
    // A crack along the grain wants its keys across it; 30 degrees off is the least that the rule allows.
    const room = new KeyRoom(checked(keysInput, { ...base, cracks: [{ ...base.cracks[0], grain: 45 }] }));
    const turned = (turn: number) =>
      room.judge([{ crack: 0, along: 300, size: 'medium', face: 'top', turn }], 0)!.against;
    expect(turned(0)).toBeNull();
    expect(turned(-14)).toBeNull();
    expect(turned(-16)).toBe('Its grain lies 29° off that of the slab; the rule asks 30°.');
  });

  test('one from each face stands on the trace of each, the lower one right under the upper', () => {
    const far = [
      [500, 312, 2],
      [1100, 308, 1],
    ];
    const room = new KeyRoom(checked(keysInput, { ...base, cracks: [{ ...base.cracks[0], faces: 'both', far }] }));
    const key: HandKey = { crack: 0, along: 300, size: 'medium', face: 'both', turn: 0 };
    const [upper, lower] = room.given([key]).keys;
    expect(upper!.at).toEqual([800, 300]);
    // The foot of the upright from (800, 300) on the line below, which falls 4 in 600.
    const [slope, t] = [-4 / 600, (300 - 12 * (-4 / 600)) / (1 + (4 / 600) ** 2)];
    expect(lower!.at[0]).toBeCloseTo(500 + t, 6);
    expect(lower!.at[1]).toBeCloseTo(312 + slope * t, 6);
    expect(lower!.angle).toBeCloseTo(90 - (Math.atan(4 / 600) * 180) / Math.PI, 6);
    // What is but in the way of the lower one is said of both.
    const { length } = medium;
    const knot = [
      [780, 310 + length / 2],
      [820, 310 + length / 2],
      [820, 330 + length / 2],
      [780, 330 + length / 2],
    ];
    const beside = new KeyRoom(
      checked(keysInput, {
        ...base,
        cracks: [{ ...base.cracks[0], faces: 'both', far }],
        defects: [{ kind: 'knot', polygon: knot }],
      }),
    );
    expect(beside.judge([{ ...key, face: 'top' }], 0)!.against).toBeNull();
    expect(beside.judge([key], 0)!.against).toMatch(/^A knot is /);
  });

  test('over a seam they do not mind that seam, and hold nothing', () => {
    const seam = [
      [0, 300, 0],
      [2200, 300, 0],
    ];
    const input = checked(keysInput, {
      ...base,
      cracks: [{ line: seam, faces: 'top', kind: 'seam' }],
      keepOff: [{ kind: 'seam', polygon: [...seam.map(([x, y]) => [x, y! - 0.01]), [2200, 300.01], [0, 300.01]] }],
    });
    const room = new KeyRoom(input);
    const proposed = placeKeys(input);
    expect(proposed.keys.length).toBeGreaterThan(5);
    const keys = takenInHand(room, proposed.keys);
    expect(keys.map((_, i) => room.judge(keys, i)!.against)).toEqual(keys.map(() => null));
    expect(room.given(keys).hold.keys).toBe(0);
  });

  test('say which rule they break, and are given out all the same where they can be made', () => {
    const room = new KeyRoom(checked(keysInput, base));
    const near: HandKey[] = [
      { crack: 0, along: 100, size: 'medium', face: 'top', turn: 0 },
      { crack: 0, along: 150, size: 'medium', face: 'top', turn: 10 },
    ];
    // One and a half lengths of 70 mm.
    expect(room.judge(near, 1)!.against).toBe('The key before is 50 mm away; the rule asks 105 mm.');
    expect(
      room
        .judge(near, 1)!
        .clearances.filter((each) => !kept(each))
        .map(({ to }) => to),
    ).toEqual(['the key before', 'another key']);
    const { keys, refused } = room.given(near);
    expect(keys.map(({ angle }) => Math.round(angle * 1000) / 1000)).toEqual([90, -80]);
    expect(refused).toHaveLength(2);
    expect(room.given([{ ...near[0]!, size: 'gone' }])).toMatchObject({
      keys: [],
      refused: [{ crack: 0, reason: 'The shop has no key of size "gone".' }],
    });
  });
});
