import { describe, expect, test } from 'vitest';
import { cameraName, isNamed, lensId, lensOf } from '../../src/app/camera-lens';
import type { KeptLens } from '../../src/app/shelf';
import { usesLens } from '../../src/app/stages/stock/reference/lens';
import type { CameraTraits } from '../../workers/camera';

/** A lens is offered only for photos that may be the same camera's, and used unasked only where they surely are. */

const phone: CameraTraits = {
  make: 'Maker',
  model: 'Phone',
  lens: '',
  focal: 5.4,
  focal35: 26,
  zoom: 1,
  longer: 4000,
  shorter: 3000,
  day: '2026-11-24',
};
const kept = (camera: CameraTraits, day = '2026-11-24'): KeptLens => ({
  camera,
  day,
  focal: 0.73,
  k1: -0.05,
  focalSigma: 0.003,
  k1Sigma: 0.004,
});

describe('whose lens it is', () => {
  test('a later photo of the same camera at the same zoom: surely', () => {
    expect(lensOf({ ...phone, day: '2026-11-25' }, [kept(phone)])).toEqual({ lens: kept(phone), sure: true });
  });

  test.each<[string, Partial<CameraTraits>]>([
    ['another model', { model: 'Other' }],
    ['another size', { longer: 8000, shorter: 6000 }],
    ['cut off', { shorter: 2900 }],
    ['zoomed by the lens', { focal: 9, focal35: 52 }],
    ['zoomed by the camera', { zoom: 2 }],
    ['the wide lens of the same phone', { focal: 1.54, focal35: 13 }],
    ['another make', { make: 'Else' }],
    ['another lens by name', { lens: 'wide' }],
  ])('%s is another lens', (name, change) => {
    const other = { ...phone, ...change };
    const found = lensOf(other, [kept(name === 'another lens by name' ? { ...phone, lens: 'main' } : phone)]);
    expect(found).toBeNull();
  });

  test.each<[string, Partial<CameraTraits>]>([
    ['nothing said of the camera', { make: '', model: '', focal: null, focal35: null, day: null }],
    ['refocused', { focal: 5.45 }],
  ])('%s: it may be, and nobody uses it unasked', (_, change) => {
    const found = lensOf({ ...phone, ...change }, [kept(phone)]);
    expect(found?.sure).toBe(false);
    expect(usesLens({ kind: 'paper' }, found)).toBe(false);
    expect(usesLens({ kind: 'paper', lens: true }, found)).toBe(true);
  });

  test('two photos that both say nothing are never surely the same camera', () => {
    const bare = { ...phone, make: '', model: '', focal: null, focal35: null };
    expect(isNamed(bare)).toBe(false);
    expect(lensOf(bare, [kept(bare)])?.sure).toBe(false);
  });

  test('of two that may be, the nearer focal length is offered', () => {
    const lenses = [kept({ ...phone, focal: 5.3 }), kept({ ...phone, focal: 5.45 })];
    expect(lensOf({ ...phone, focal: 5.44 }, lenses)?.lens.camera.focal).toBe(5.45);
  });
});

test('used unasked with a sheet or rods, which teach none themselves; with cards only where somebody says so', () => {
  const found = { lens: kept(phone), sure: true };
  expect((['paper', 'rods', 'markers', 'points'] as const).map((kind) => usesLens({ kind }, found))).toEqual([
    true,
    true,
    false,
    false,
  ]);
  expect(usesLens({ kind: 'rods', lens: false }, found)).toBe(false);
  expect(usesLens({ kind: 'markers', lens: true }, found)).toBe(true);
  expect(usesLens({ kind: 'rods', lens: true }, null)).toBe(false);
});

test('the day of a photo does not make another camera of it; its plain name says what a person knows', () => {
  expect(lensId({ ...phone, day: '2020-01-01' })).toBe(lensId(phone));
  expect(cameraName(phone)).toBe('Phone, 26 mm, 4000 × 3000');
});
