import { type Point, rectangle } from '../../src/geometry';
import type { BenchLeaf, BenchRules, LeafFace } from '../../src/leaves';
import { leafPictures } from './rendered-leaves';

/** Saw and plane of the tests: a carbide resaw blade, a track saw, a plane's cut on each edge. mm */
export const RULES: BenchRules = { kerf: 1.3, crosscut: 2.4, jointing: 2, loose: null };

/** A face that nobody photographed. */
export const plainFace = (length: number, width: number, defects: LeafFace['defects'] = []): LeafFace => ({
  picture: null,
  outline: rectangle<'face'>(0, 0, length, width),
  defects,
});

/** Leaves of one board in sawing order, sizes alone. */
export const plainLeaves = (count: number, length: number, width: number, board = 'board'): BenchLeaf[] =>
  Array.from({ length: count }, (_, i) => ({
    board,
    leaf: `leaf-${i + 1}`,
    place: i + 1,
    top: plainFace(length, width),
    bottom: null,
  }));

/** Leaves of a rendered board, photographed on one face. */
export const picturedLeaves = (
  count: number,
  size: Parameters<typeof leafPictures>[1],
  board = 'board',
  seed = 1,
): BenchLeaf[] =>
  leafPictures(count, size, seed).map(({ id, picture, outline, defects }, i) => ({
    board,
    leaf: id,
    place: i + 1,
    top: { picture, outline, defects },
    bottom: null,
  }));

export const knotAt = (x: number, y: number, r: number, kind: 'knot' | 'void' = 'knot') => ({
  kind,
  polygon: [
    [x - r, y - r],
    [x + r, y - r],
    [x + r, y + r],
    [x - r, y + r],
  ] as Point<'face'>[],
});
