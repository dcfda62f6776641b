import { describe, expect, test } from 'vitest';
import { rectangle } from '../../src/geometry';
import { crackFate } from '../../src/keys';
import { alongOf, checkedPlace, crack, medium, outline, place, size } from './top';

const gaps = (along: readonly number[]) => along.slice(1).map((s, i) => s - (along[i] as number));
const wedge = crack([300, 300, 16], [1500, 300, 0]);

describe('rhythm', () => {
  test('graded: closer where the crack is wider, the tips as near and no gap over the rule', () => {
    const { keys } = checkedPlace({ cracks: [wedge], rules: { rhythm: 'graded' } });
    const along = alongOf(keys);
    const spaces = gaps(along);
    expect(along[0]).toBeCloseTo(70, 6);
    expect(along.at(-1)).toBeCloseTo(1130, 6);
    // Wide at its first tip: every gap is as wide as the one before it, or wider.
    for (const [i, gap] of spaces.slice(1).entries()) expect(gap).toBeGreaterThan((spaces[i] as number) - 1);
    expect(spaces.at(-1) as number).toBeGreaterThan(1.3 * (spaces[0] as number));
    expect(Math.max(...spaces)).toBeLessThanOrEqual(210 + 1e-6);
  });

  test('odd: five keys where four would do, evenly', () => {
    const along = alongOf(checkedPlace({ rules: { rhythm: 'odd' } }).keys);
    expect(along).toHaveLength(5);
    for (const gap of gaps(along)) expect(gap).toBeCloseTo(115, 6);
  });

  test('mirrored: cracks that mirror each other over the seam have keys that do, also where only one has a knot', () => {
    const pair = [
      crack([500, 200, 3], [800, 220, 3], [1100, 210, 1]),
      crack([1100, 430, 1], [800, 420, 3], [500, 440, 3]),
    ];
    const seam = [
      [0, 320],
      [2200, 320],
    ];
    const knot = {
      kind: 'knot',
      polygon: [
        [640, 190],
        [660, 190],
        [660, 230],
        [640, 230],
      ],
    };
    const { keys, refused } = checkedPlace({
      cracks: pair,
      mirror: seam,
      defects: [knot],
      rules: { rhythm: 'mirrored' },
    });
    expect(refused).toEqual([]);
    const [front, back] = [0, 1].map((i) => keys.filter((key) => key.crack === i));
    expect(front?.length).toBeGreaterThan(2);
    expect(front).toHaveLength(back?.length ?? 0);
    for (const key of front ?? []) {
      const [x, y] = key.at;
      const twin = (back ?? []).map(({ at }) => Math.hypot(at[0] - x, at[1] - (640 - y)));
      expect(Math.min(...twin)).toBeLessThan(3);
    }
  });
});

describe('sizes', () => {
  const sizes = [size('small', 50, [13, 14]), size('medium', 70, [13, 14]), size('large', 90, [13, 14])];

  test('mixed, they grow with the width of the crack: each the shortest that is four times as long as the crack is wide there', () => {
    const { keys } = checkedPlace({ cracks: [crack([300, 300, 22], [1700, 300, 0])], sizes, rules: { mixed: true } });
    const lengths = keys.map((key) => sizes.find(({ id }) => id === key.size)?.length ?? 0);
    expect(new Set(lengths)).toEqual(new Set([90, 70, 50]));
    for (const [i, long] of lengths.slice(1).entries()) expect(long).toBeLessThanOrEqual(lengths[i] as number);
    for (const [i, key] of keys.entries()) {
      const width = 22 * (1 - (key.at[0] - 300) / 1400);
      const shorter = sizes.filter(({ length }) => length < (lengths[i] as number));
      for (const { length, end } of shorter) expect(length).toBeLessThan(4 * (width + ((22 / 1400) * end) / 2));
    }
  });

  test('not longer than the rule allows: 76 mm, as a magazine has it (TRADE 6)', () => {
    const { keys } = checkedPlace({ cracks: [crack([300, 300, 15], [1500, 300, 0])], sizes, rules: { longest: 76 } });
    expect(new Set(keys.map((key) => key.size))).toEqual(new Set(['medium']));
    const wide = place({ cracks: [crack([300, 300, 20], [1500, 300, 0])], sizes, rules: { longest: 76 } });
    expect(wide.refused[0]?.reason).toContain('allow no key over 76 mm');
  });
});

describe('faces, seams and grain', () => {
  test('where the far face was photographed, keys from below follow the line there', () => {
    const line = crack([500, 300, 3], [1100, 300, 1]).line;
    const far = line.map(([x, y, w]) => [x + 60, y + 15, w]);
    const { keys, cracks } = checkedPlace({ cracks: [{ line, far, faces: 'both' }], sizes: [size('m', 70, [12, 14])] });
    expect(alongOf(keys)).toEqual(alongOf(keys, 0, 'bottom'));
    for (const { at, face } of keys) expect(at[1]).toBeCloseTo(face === 'top' ? 300 : 315, 9);
    expect(cracks[0]?.parts.map(({ face }) => face)).toEqual(['top', 'bottom']);
    for (const { under } of keys) expect(under).toBeGreaterThanOrEqual(6);
  });

  test('no key along the grain: a crack across the slab is not keyed, and the rule is named', () => {
    const across = crack([1000, 100, 2], [1000, 500, 2]);
    expect(place({ cracks: [across] }).keys.length).toBeGreaterThan(0);
    const { keys, refused } = place({ cracks: [{ ...across, grain: 0 }] });
    expect(keys).toEqual([]);
    expect(refused[0]?.reason).toContain(
      "the angle between a key's grain and the slab's (30 degrees asked, and 0 degrees at best)",
    );
    expect(checkedPlace({ cracks: [{ ...across, grain: 35 }], rules: { turn: 35 } }).keys.length).toBeGreaterThan(0);
  });
});

describe('what cannot be keyed', () => {
  test('the rule that binds is named, with what there is of it', () => {
    const front = crack([500, 50, 2], [1100, 50, 1]);
    const { keys, refused } = place({ cracks: [front] });
    expect(keys).toEqual([]);
    expect(refused).toHaveLength(1);
    expect(refused[0]?.reason).toContain(
      "The rule that binds is wood between a key and the top's edge (20 mm asked, and 15 mm at best)",
    );
    expect(checkedPlace({ cracks: [front], rules: { edge: 15 } }).keys).toHaveLength(4);
  });

  test('a place where no key fits has its reason and the nearest place that does', () => {
    const hole = [
      [700, 250],
      [900, 250],
      [900, 350],
      [700, 350],
    ];
    const { refused, keys } = checkedPlace({ keepOff: [{ kind: 'cut-out', name: 'the sink', polygon: hole }] });
    // Close to both sides of the hole, where four would stand too near to each other.
    expect(keys).toHaveLength(2);
    const [place0, gap] = refused;
    expect(place0?.reason).toMatch(
      /^No key stands .* along the crack, because the sink is in its way\. The nearest place that is clear is /,
    );
    const [x] = place0?.nearest ?? [0];
    expect(Math.min(Math.abs(x - 700), Math.abs(x - 900))).toBeLessThan(medium.end / 2 + 10 + 5);
    expect(gap?.reason).toMatch(/where the rule allows 210 mm/);
  });

  test('cracks that cross keep off each other, and it is said', () => {
    const cracks = [crack([500, 300, 2], [1100, 300, 2]), crack([700, 150, 2], [900, 450, 2])];
    const { cracks: facts, keys } = checkedPlace({ cracks });
    expect(keys.length).toBeGreaterThan(3);
    expect(facts.map(({ notes }) => notes.some((note) => note.includes('crosses crack')))).toEqual([true, true]);
  });

  test('keys of cracks side by side keep apart, as many as there is room for', () => {
    const cracks = [0, 1, 2].map((i) => crack([500, 250 + i * 60, 2], [1100, 250 + i * 60, 2]));
    const { keys } = checkedPlace({ cracks });
    // By themselves the three rows would stand side by side, 10 mm into each other's wings.
    expect([0, 1, 2].every((i) => keys.some((key) => key.crack === i))).toBe(true);
  });

  test('what leaves the top, is longer than it, or was traced twice is said', () => {
    const [long, again] = [crack([-900, 300, 4], [3000, 300, 1]), crack([-800, 303, 4], [2900, 303, 1])];
    const { cracks, refused, keys } = place({ cracks: [long, again] });
    expect(cracks[0]?.notes.join(' ')).toMatch(
      /3900\smm long, more than the top is.*2200\smm of its 3900\smm lie inside.*runs out at both ends/,
    );
    expect(refused).toEqual([{ crack: 1, reason: 'It is crack 1 traced again, whose keys hold it.' }]);
    expect(keys.length).toBeGreaterThan(8);
    expect(cracks[0]?.opens).toBeNull();
  });

  test.each([
    [
      {
        cracks: [
          {
            ...crack([500, 300, 2], [900, 300, 2]),
            far: [
              [500, 310, 1],
              [900, 310, 1],
            ],
          },
        ],
      },
      '/cracks/0/faces',
    ],
    [
      {
        cracks: [
          {
            line: [
              [500, 300, 2],
              [900, 300, 2],
            ],
            faces: 'both',
            depth: 'surface',
          },
        ],
      },
      '/cracks/0/depth',
    ],
    [
      {
        cracks: [
          {
            line: [
              [500, 300, 2],
              [900, 300, 2],
            ],
            faces: 'both',
            far: [
              [5, 5, 1],
              [5, 5, 2],
            ],
          },
        ],
      },
      '/cracks/0/far',
    ],
    [{ sizes: [medium, medium] }, '/sizes/1/id'],
    [
      {
        top: {
          outline: [
            [0, 0],
            [2200, 640],
            [2200, 0],
            [0, 700],
          ],
          thickness: 38,
        },
      },
      '/top/outline',
    ],
    [{ top: { outline, thickness: null } }, '/top/thickness'],
    [{ rules: { rhythm: 'wild' } }, '/rules/rhythm'],
    [{ rules: { turn: 91 } }, '/rules/turn'],
  ])('%# is refused at %s', (part, where) => {
    expect(() => place(part)).toThrow(expect.objectContaining({ where }));
  });
});

describe('end checks', () => {
  const slab = rectangle<'face'>(0, 0, 2600, 500);
  const piece = rectangle<'face'>(200, 60, 2400, 440);
  const from = (...line: [number, number, number][]) => crackFate(line, slab, piece);

  test.each([
    [
      'one within the end that is cut off goes',
      'goes',
      [
        [2, 200, 3],
        [150, 210, 0],
      ],
    ],
    [
      'at the other end too',
      'goes',
      [
        [2598, 200, 3],
        [2420, 210, 0],
      ],
    ],
    [
      'a longer one comes out at the new end',
      'comes',
      [
        [2, 200, 3],
        [450, 210, 0],
      ],
    ],
    [
      'so does a crack inside the slab that the cut opens',
      'comes',
      [
        [2300, 200, 0],
        [2500, 210, 0],
      ],
    ],
    [
      'one inside the piece stays',
      'stays',
      [
        [800, 200, 0],
        [1200, 210, 0],
      ],
    ],
    [
      'one that the rip cuts alone stays',
      'stays',
      [
        [800, 50, 0],
        [1200, 90, 0],
      ],
    ],
    [
      'one beside the piece is none of its',
      null,
      [
        [2, 480, 3],
        [150, 490, 0],
      ],
    ],
    [
      'nor is a crack in an offcut that is no end check',
      null,
      [
        [60, 200, 0],
        [150, 210, 0],
      ],
    ],
  ] as const)('%s', (_, fate, line) => {
    expect(from(...(line as unknown as [number, number, number][]))).toBe(fate);
  });
});

describe('moisture', () => {
  const moist = (now: number, swing = 0) => place({ moisture: { now, site: 8, swing } });

  test('within 1 % nothing is said, beyond it is, and beyond 2 % to wait (TRADE 11: keys are fitted within 1-2 %)', () => {
    const notes = [8.9, 9.5, 12].map((now) => moist(now).notes.join(' '));
    expect(notes[0]).not.toContain('%');
    expect(notes[1]).toContain('keys are fitted within 1 to 2 % (practice)');
    expect(notes[2]).toContain('so let it come nearer first');
    expect(moist(12).cracks[0]?.notes.join(' ')).toContain('still moves');
    for (const note of notes) expect(note).toContain('Keys hold a crack; they do not stop drying.');
  });

  test('drying opens a crack, by twice its length times the strain: 0.00274 - 0.0019 to 0.00274 a % for walnut (Table 13-5)', () => {
    const opens = moist(12).cracks[0]?.opens;
    expect(opens?.least).toBeCloseTo(2 * 600 * 4 * (0.00274 - 0.0019), 6);
    expect(opens?.most).toBeCloseTo(2 * 600 * 4 * 0.00274, 6);
    // The driest of the year opens it further, and wood that takes up moisture closes it.
    expect(moist(12, 2).cracks[0]?.opens?.most).toBeGreaterThan(opens?.most as number);
    expect(moist(6.5).cracks[0]?.opens?.least).toBeLessThan(0);
    expect(place().cracks[0]?.opens).toBeNull();
  });
});
