import fc from 'fast-check';
import { expect, test } from 'vitest';
import { density, densityFromBasicGravity, densityFromGravity, findSpecies, SPECIES, weight } from '../../src/wood';

test('white ash at 12 %: 678 kg/m3 read off the handbook graph, within 4 (GTR-190 ch. 4, method 3)', () => {
  expect(Math.abs(densityFromBasicGravity(0.55, 12) - 678)).toBeLessThanOrEqual(4);
  expect(Math.abs(densityFromBasicGravity(0.55, 12) / 1.12 / 1000 - 0.605)).toBeLessThanOrEqual(0.003);
});

test('specific gravity 0.40 at 12 %: 448 kg/m3, 27.968 lb/ft3 (University of Missouri, citing GTR-190 ch. 4)', () => {
  expect(densityFromGravity(0.4, 12)).toBeCloseTo(448, 6);
  expect((densityFromGravity(0.4, 12) / 1000) * 62.43).toBeCloseTo(27.968, 2);
});

test('black walnut at 8 and 12 %: 608 and 619 kg/m3 (TRADE 1.4, computed from the same tables)', () => {
  expect(density(findSpecies('walnut_black'), 8)).toBeCloseTo(608, 0);
  expect(density(findSpecies('walnut_black'), 12)).toBeCloseTo(619, 0);
});

test('a walnut slab of 2400 x 900 x 60 weighs about 79 kg (TRADE 8)', () => {
  expect(weight({ species: 'walnut_black', moisture: 8, litres: 24 * 9 * 0.6 }).kg).toBeCloseTo(79, 0);
});

test('above fibre saturation only water is added: the dry mass in a volume of walnut stays that of green wood (G 0.51)', () => {
  const walnut = findSpecies('walnut_black');
  const dryMass = (moisture: number) => density(walnut, moisture) / (1 + moisture / 100);
  expect(dryMass(30)).toBeCloseTo(510, 6);
  expect(dryMass(80)).toBe(dryMass(30));
  expect(density(walnut, 80)).toBeCloseTo(510 * 1.8, 6);
});

test('weight is in proportion to volume, grows with moisture, and carries a tenth either way', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...SPECIES.map(({ id }) => id)),
      fc.double({ min: 0, max: 120, noNaN: true }),
      fc.double({ min: 0.1, max: 500, noNaN: true }),
      (species, moisture, litres) => {
        const one = weight({ species, moisture, litres });
        expect(one.least).toBeCloseTo(0.9 * one.kg, 9);
        expect(one.most).toBeCloseTo(1.1 * one.kg, 9);
        expect(weight({ species, moisture, litres: 2 * litres }).kg).toBeCloseTo(2 * one.kg, 6);
        expect(weight({ species, moisture: moisture + 5, litres }).kg).toBeGreaterThan(one.kg);
      },
    ),
  );
});

test.each([
  [{ moisture: -1 }, '/mc'],
  [{ moisture: Number.NaN }, '/mc'],
  [{ litres: -1 }, '/volume'],
  [{ species: 'granite' }, '/species'],
])('%o is refused at %s', (part, where) => {
  const asked = { species: 'teak', moisture: 8, litres: 1, ...part };
  expect(() => weight(asked)).toThrow(expect.objectContaining({ where }));
});
