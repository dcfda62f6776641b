import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ribbon, ringArea, type WideLine } from '../../src/geometry';
import { checked } from '../../src/job';
import { type Key, keysOutput } from '../../src/keys';
import examples from '../fixtures/worked_examples.json';
import { runs } from '../support/runs';
import { base, crack, grown, medium, outline, outside, overlap, place, type Ring, size } from './top';

describe('keys along a crack', () => {
  test('600 mm, key 70 x 21, flare 14.5: four keys at 70, 223, 377, 530, depth 14 of 38, end 39.1 (TRADE 11 d)', () => {
    const { keys, refused } = place();
    expect(keys.map(({ at }) => Math.round(at[0] - 500))).toEqual([70, 223, 377, 530]);
    expect(keys.map(({ at }) => at[1])).toEqual([300, 300, 300, 300]);
    expect(keys.map(({ depth }) => depth)).toEqual([14, 14, 14, 14]);
    expect(keys.map(({ angle }) => angle)).toEqual([90, 90, 90, 90]);
    expect(medium.end).toBeCloseTo(39.1, 1);
    expect(refused).toEqual([]);
  });

  test('the template for a 30 mm bushing and a 10 mm bit is 90 long with a waist of 41.7 (TRADE 11 d)', () => {
    const { keys } = place({ router: { bushing: 30, bit: 10 } });
    const ring = keys[0]?.template as Ring;
    const ys = ring.map(([, y]) => y);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(90, 9);
    const waist = ring.filter(([, y]) => Math.abs(y - 300) < 1e-9).map(([x]) => x);
    expect(Math.max(...waist) - Math.min(...waist)).toBeCloseTo(41.7, 1);
  });

  test.each(examples.examples.filter(({ id }) => id.startsWith('bushing-')))(
    '$id: guide offset ($source)',
    (example) => {
      const inputs = example.inputs as Record<string, number>;
      const scale = inputs.OD_in === undefined ? 1 : 25.4;
      const router = {
        bushing: (inputs.OD_mm ?? inputs.OD_in ?? 0) * scale,
        bit: (inputs.bit_mm ?? inputs.bit_in ?? 0) * scale,
      };
      const out = example.published_output as Record<string, number>;
      const offsetMm = out.offset_mm ?? (out.offset_in as number) * 25.4;
      const key = place({ router }).keys[0];
      const pocket = key?.outline as Ring;
      // Every side stands square off its own side of the pocket by the offset, whatever its slope.
      const sides = (ring: Ring) => ring.map((p, i) => [p, ring[(i + 1) % ring.length]] as [Ring[0], Ring[0]]);
      sides(key?.template as Ring).forEach(([p, q], i) => {
        const [a, b] = sides(pocket)[i] as [Ring[0], Ring[0]];
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        for (const c of [p, q]) {
          const off = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / length;
          expect(off).toBeCloseTo(offsetMm, 6);
        }
      });
    },
  );

  test('a key of 2 1/2 in with flanks at 76 degrees and a 3/4 in waist has 1.373 in ends (blog on butterfly keys)', () => {
    const { inputs, note } = examples.examples.find(({ id }) => id === 'key-76deg') as unknown as {
      inputs: { length_in: number; flank_angle_deg: number };
      note: string;
    };
    expect(note).toContain('1.373');
    const length = inputs.length_in * 25.4;
    const blog = { id: 'blog', length, waist: 0.75 * 25.4, end: 1.373 * 25.4, depths: [14] };
    const [tip, waist] = (place({ sizes: [blog] }).keys[0] as Key).outline;
    const [dx, dy] = [(tip?.[0] as number) - (waist?.[0] as number), (tip?.[1] as number) - (waist?.[1] as number)];
    const flank = 90 - Math.abs((Math.atan2(dx, dy) * 180) / Math.PI);
    expect(flank).toBeCloseTo(inputs.flank_angle_deg, 1);
  });

  test('even spacing, ends one length clear, never more than three lengths apart, for cracks of any length', () => {
    fc.assert(
      fc.property(fc.integer({ min: 250, max: 1900 }), (length) => {
        const { keys, refused } = place({ cracks: [crack([100, 300, 2], [100 + length, 300, 2])] });
        expect(refused).toEqual([]);
        const along = keys.map(({ at }) => at[0] - 100);
        expect(along[0]).toBeCloseTo(70, 9);
        expect(along.at(-1)).toBeCloseTo(length - 70, 9);
        const gaps = along.slice(1).map((s, i) => s - (along[i] as number));
        for (const gap of gaps) {
          expect(gap).toBeCloseTo(gaps[0] as number, 9);
          expect(gap).toBeLessThanOrEqual(210 + 1e-9);
        }
        // As few as that allows: one fewer would stand too far apart.
        if (gaps.length > 1) expect((length - 140) / (gaps.length - 1)).toBeGreaterThan(210 - 1e-9);
      }),
    );
  });

  test('a short crack gets one key in its middle, one shorter than a key is wide none', () => {
    expect(place({ cracks: [crack([500, 300, 2], [600, 300, 1])] }).keys.map(({ at }) => at)).toEqual([[550, 300]]);
    const tiny = place({ cracks: [crack([500, 300, 2], [530, 300, 1])] });
    expect(tiny.keys).toEqual([]);
    expect(tiny.refused[0]?.reason).toContain('shorter than a key');
  });

  test('each key stands square to its crack where it crosses it, its waist on the crack', () => {
    fc.assert(
      fc.property(fc.integer({ min: -89, max: 90 }), fc.integer({ min: 150, max: 450 }), (turn, length) => {
        const [dx, dy] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
        const half = length / 2;
        const line = crack([1100 - dx * half, 320 - dy * half, 2], [1100 + dx * half, 320 + dy * half, 2]);
        for (const { at, angle, outline: ring } of place({ cracks: [line], rules: { edge: 0 } }).keys) {
          expect(Math.abs(Math.cos(((angle - turn) * Math.PI) / 180))).toBeLessThan(1e-9);
          expect(angle).toBeGreaterThan(-90);
          expect(angle).toBeLessThanOrEqual(90 + 1e-9);
          expect(Math.abs((at[0] - 1100) * dy - (at[1] - 320) * dx)).toBeLessThan(1e-9);
          expect(ringArea(ring)).toBeCloseTo((70 * (medium.end + medium.waist)) / 2, 6);
        }
      }),
    );
  });

  test('a crack that bends turns its keys with it', () => {
    const line = crack([500, 300, 2], [800, 300, 2], [800, 560, 2]);
    const { keys } = place({
      top: {
        outline: [
          [0, 0],
          [2200, 0],
          [2200, 800],
          [0, 800],
        ],
        thickness: 38,
      },
      cracks: [line],
    });
    expect(keys[0]?.angle).toBeCloseTo(90, 6);
    expect(keys.at(-1)?.angle).toBeCloseTo(0, 6);
  });

  test('a crack that runs out of the top is keyed as far as it lies inside, measured from there', () => {
    const { keys } = place({ cracks: [crack([-150, 300, 4], [350, 300, 1])] });
    expect(keys[0]?.at[0]).toBeCloseTo(70, 6);
    expect(keys.at(-1)?.at[0]).toBeCloseTo(280, 6);
    expect(place({ cracks: [crack([-300, 300, 2], [-10, 300, 1])] }).refused).toEqual([
      { crack: 0, reason: 'The crack lies outside the top.' },
    ]);
  });

  test('a crack on both faces gets keys from both, whose pockets leave the floor between them', () => {
    const both = place({ cracks: [{ ...base.cracks[0], faces: 'both' }], sizes: [size('m', 70, [12, 14, 16, 18])] });
    expect(both.keys.map(({ face }) => face)).toEqual([...Array(4).fill('top'), ...Array(4).fill('bottom')]);
    for (const { depth } of both.keys) expect(2 * depth + 6).toBeLessThanOrEqual(38);
    expect(place({ top: { outline, thickness: 20 }, cracks: [{ ...base.cracks[0], faces: 'both' }] }).keys).toEqual([]);
  });
});

describe('sizes and depths', () => {
  const sizes = [size('small', 50, [8, 10, 12]), size('medium', 70, [10, 12, 14]), size('large', 90, [12, 14, 16, 18])];
  const sized = (thickness: number, width: number) =>
    place({ top: { outline, thickness }, sizes, cracks: [crack([500, 300, width], [1100, 300, 1])] }).keys[0];

  test('thicker wood takes a larger key, a wider crack a longer one, and the depth is a third to a half', () => {
    expect([24, 38, 50].map((t) => sized(t, 2)?.size)).toEqual(['small', 'medium', 'large']);
    expect([2, 15, 20].map((w) => sized(30, w)?.size)).toEqual(['small', 'medium', 'large']);
    for (const [thickness, width] of [
      [24, 2],
      [38, 2],
      [50, 2],
      [30, 20],
    ] as const) {
      const depth = sized(thickness, width)?.depth as number;
      expect(depth).toBeGreaterThanOrEqual(thickness / 3);
      expect(depth).toBeLessThanOrEqual(thickness / 2);
    }
  });

  test('where no size reaches a third, the deepest is taken that is at least a sixth: half an inch in a 3 in slab (READ)', () => {
    expect(place({ top: { outline, thickness: 76.2 }, sizes: [size('blog', 70, [8, 12.7])] }).keys[0]?.depth).toBe(
      12.7,
    );
  });

  test.each([
    [{ cracks: [crack([500, 300, 40], [1100, 300, 10])] }, 'is 40 mm wide and asks for a key 160 mm long'],
    [{ top: { outline, thickness: 12 } }, 'no size that is long enough has such a depth'],
    [{ router: { bushing: 40, bit: 24 } }, 'the bit is wider than the waist'],
    [
      { router: { bushing: 30, bit: 20 }, sizes: [{ ...medium, length: 20, waist: 20, end: 26 }] },
      'too wide for its ends',
    ],
  ])('%# is refused: %s', (part, why) => {
    const { keys, refused } = place(part);
    expect(keys).toEqual([]);
    expect(refused).toHaveLength(1);
    expect(refused[0]?.reason).toContain(why);
  });
});

describe('clear of everything', () => {
  const knot = (x: number, y: number, r: number) => ({
    kind: 'knot',
    polygon: Array.from({ length: 24 }, (_, i) => [
      x + r * Math.cos((i * Math.PI) / 12),
      y + r * Math.sin((i * Math.PI) / 12),
    ]),
  });

  test('a knot where a key would stand moves the row, and the rules still hold', () => {
    const there = knot(500 + 223, 300, 15);
    const { keys, refused } = place({ defects: [there] });
    expect(refused).toEqual([]);
    // No key more than without it: the four move together, no gap wider than the rule allows.
    expect(keys).toHaveLength(4);
    const along = keys.map(({ at }) => at[0] - 500);
    expect([along[0], along[3]]).toEqual([70, 530]);
    for (const [i, s] of along.slice(1).entries()) expect(s - (along[i] as number)).toBeLessThanOrEqual(210 + 1e-9);
    for (const { outline: ring } of keys)
      expect(overlap(grown(there.polygon as unknown as Ring, 9.99), ring)).toBeLessThan(1e-6);
  });

  test('a void as long as two spaces leaves a gap, which is said with its length', () => {
    const avoid = [
      [
        [640, 250],
        [960, 250],
        [960, 350],
        [640, 350],
      ],
    ];
    const { refused, keys } = place({ avoid });
    expect(keys.length).toBeGreaterThan(0);
    expect(refused.map(({ reason }) => reason).join(' ')).toMatch(/an area to avoid|no key stands/);
  });

  test('stains, cracks traced twice and what is allowed are no hindrance; a second crack is', () => {
    const same = {
      kind: 'crack',
      line: [
        [505, 302, 3],
        [1095, 297, 1],
      ],
    };
    const clear = [{ ...knot(723, 300, 40), kind: 'stain' }, same, { ...knot(877, 300, 20), permit: 'allow' }];
    expect(place({ defects: clear }).keys.map(({ at }) => Math.round(at[0]))).toEqual([570, 723, 877, 1030]);
    const second = {
      kind: 'crack',
      line: [
        [700, 330, 2],
        [760, 330, 2],
      ],
    };
    const broken = grown(ribbon(second.line as unknown as WideLine), 9.98);
    const { keys } = place({ defects: [second] });
    expect(keys.length).toBeGreaterThan(0);
    for (const { outline: ring } of keys) expect(overlap(broken, ring)).toBeLessThan(1e-3);
  });

  test('every rule holds on random tops, checked by the area of exact polygons', () => {
    const at = fc.tuple(fc.integer({ min: 20, max: 1980 }), fc.integer({ min: 20, max: 620 }));
    const job = fc.record({
      cracks: fc.array(fc.tuple(at, at, fc.integer({ min: 1, max: 12 })), { minLength: 1, maxLength: 3 }),
      knots: fc.array(fc.tuple(at, fc.integer({ min: 5, max: 60 })), { maxLength: 5 }),
    });
    fc.assert(
      fc.property(job, ({ cracks, knots }) => {
        const lines = cracks.map(([p, q, w]) => crack([p[0], p[1], w], [q[0] + 1, q[1], w / 2]));
        const defects = knots.map(([[x, y], r]) => knot(x, y, r));
        const found = place({ cracks: lines, defects, router: { bushing: 30, bit: 10 } });
        checked(keysOutput, JSON.parse(JSON.stringify(found)));
        const inner: Ring = [
          [34.99, 19.99],
          [2165.01, 19.99],
          [2165.01, 620.01],
          [34.99, 620.01],
        ];
        found.keys.forEach(({ outline: ring, pocket, template }, i) => {
          expect(outside(ring, inner)).toBeLessThan(1e-3);
          for (const { polygon } of defects)
            expect(overlap(grown(polygon as unknown as Ring, 9.98), ring)).toBeLessThan(1e-3);
          for (const other of found.keys.slice(0, i))
            expect(overlap(grown(other.outline, 9.98), ring)).toBeLessThan(1e-3);
          expect(outside(pocket, ring)).toBeLessThan(0.2);
          expect(outside(ring, template as Ring)).toBeLessThan(1e-3);
        });
      }),
      { numRuns: runs(100) },
    );
  });
});
