import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { TextItem, XY } from '../../src/app/canvas/items';
import { placeTexts, type SizedText } from '../../src/app/canvas/labels';

/** Texts of a slab's drawing: letters, cut numbers, sizes, some turned with their offcut. */
const texts: fc.Arbitrary<SizedText[]> = fc
  .array(
    fc.record({
      at: fc.tuple(fc.integer({ min: 0, max: 2600 }), fc.integer({ min: 0, max: 900 })),
      or: fc.array(fc.tuple(fc.integer({ min: 0, max: 2600 }), fc.integer({ min: 0, max: 900 })), { maxLength: 3 }),
      turn: fc.constantFrom(0, 4, -90),
      yields: fc.constantFrom(undefined, 0, 1, 2),
      width: fc.integer({ min: 15, max: 150 }),
    }),
    { maxLength: 30 },
  )
  .map((all) =>
    all.map(({ at, or, turn, yields, width }, i): SizedText => {
      const item: TextItem = { kind: 'text', id: `${i}`, at, or, turn, text: 'x', pen: 'ink', shape: 'bare' };
      return { item: yields === undefined ? item : { ...item, yields }, width, height: 20 };
    }),
  );

/** The four corners of a text on screen. */
function corners({ item: { turn = 0 }, width, height }: SizedText, [x, y]: XY, zoom: number): XY[] {
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([u = 0, v = 0]) => [
    x * zoom + (u * cos * width - v * sin * height) / 2,
    y * zoom + (u * sin * width + v * cos * height) / 2,
  ]);
}

/** Whether two convex rings are parted by a line along one of their sides (separating axis theorem). */
function apart(a: XY[], b: XY[]): boolean {
  return [a, b].some((ring) =>
    ring.some(([x, y], i) => {
      const [nx, ny] = ring[(i + 1) % ring.length] as XY;
      const off = ([px, py]: XY) => (px - x) * (ny - y) - (py - y) * (nx - x);
      const [of, other] = [a.map(off), b.map(off)];
      return Math.max(...of) <= Math.min(...other) + 1e-6 || Math.max(...other) <= Math.min(...of) + 1e-6;
    }),
  );
}

test('no text that yields lies over another text or over a handle, and what never yields keeps its place', () => {
  fc.assert(
    fc.property(texts, fc.array(fc.tuple(fc.nat(2600), fc.nat(900)), { maxLength: 6 }), (all, handles) => {
      const zoom = 0.14;
      const places = placeTexts(all, zoom, handles, 4.5);
      const shown = all.filter(({ item }) => places.has(item.id));
      for (const text of all)
        if (text.item.yields === undefined) expect(places.get(text.item.id)).toEqual(text.item.at);
      for (const one of shown.filter(({ item }) => item.yields !== undefined)) {
        const at = places.get(one.item.id) as XY;
        expect([one.item.at, ...(one.item.or ?? [])]).toContainEqual(at);
        const ring = corners(one, at, zoom);
        for (const other of shown)
          if (other !== one) expect(apart(ring, corners(other, places.get(other.item.id) as XY, zoom))).toBe(true);
        for (const [x, y] of handles) {
          const square = corners({ ...one, item: { ...one.item, turn: 0 }, width: 9, height: 9 }, [x, y], zoom);
          expect(apart(ring, square)).toBe(true);
        }
      }
    }),
    { numRuns: 60 },
  );
});

test('of two texts at one place the one that yields less stands; zoomed in until they are clear, both do', () => {
  const text = (id: string, at: XY, yields: number): SizedText => ({
    item: { kind: 'text', id, at, text: id, pen: 'ink', shape: 'ring', yields },
    width: 20,
    height: 20,
  });
  const two = [text('defect', [0, 0], 1), text('cut', [100, 0], 0)];
  expect([...placeTexts(two, 0.1).keys()]).toEqual(['cut']);
  expect([...placeTexts(two, 0.3).keys()].sort()).toEqual(['cut', 'defect']);
});
