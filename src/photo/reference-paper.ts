import type { Point } from '../geometry';
import type { Scale } from '../job';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import type { Local, Mark, SeenEdge } from './marks';
import { ROUGHLY_FLAT } from './marks';
import { BY_HAND } from './reference-markers';
import type { Reference } from './reference-type';
import { findSheet, type SeenSheet } from './sheet';

/** Cut paper is this exact, one standard deviation as a share of its side (ISO 216 allows 1.5 to 2 mm on A4; in practice far less). */
const SIZE_SIGMA = 0.001;

/** A long edge of paper is bent by its cut, its curl and its shadow, all along alike: px. */
const LEAST_EDGE_SIGMA = 0.15;

/** At half the light white grows by little: what the camera's curve differs from sRGB's, px (rendered photos: 0.05 to 0.1). */
const BIAS = { mean: 0.03, sigma: 0.1 };

/** The sheet in a photo as a mark, lying either way round. */
export function sheetMarks(cv: Cv, photo: Raster, scale: Extract<Scale, { kind: 'paper' }>): Reference {
  const { width, height } = scale;
  const sheet = findSheet(cv, photo, Math.max(width, height) / Math.min(width, height));
  if (!sheet) {
    throw new InputProblem(
      'No white sheet of paper was found in this photo.',
      '',
      `Lay one whole sheet flat on the slab, clear of other white things, and take the photo again; ${BY_HAND}.`,
    );
  }
  return paperReference(sheet, width, height);
}

/** A sheet that was found, lying either way round. */
export function paperReference(sheet: SeenSheet, width: number, height: number): Reference {
  const ways = (
    [
      [width, height],
      [height, width],
    ] as const
  ).map(([w, h]) => {
    const corners: Local[] = [
      [-w / 2, -h / 2],
      [w / 2, -h / 2],
      [w / 2, h / 2],
      [-w / 2, h / 2],
    ];
    const mark: Mark = {
      name: 'sheet',
      points: [],
      edges: sheet.edges.map((edge): SeenEdge => ({ ...edge, at: [edge.at[0] * w, edge.at[1] * h] })),
      known: null,
      turns: true,
      above: 0,
      ...ROUGHLY_FLAT,
      sizeSigma: SIZE_SIGMA,
      lineSigma: 0,
      dimension: { name: 'long side', mm: Math.max(width, height) },
    };
    const rough = {
      ...mark,
      edges: [],
      points: corners.map((at, i) => ({ at, px: sheet.corners[i] as Point<'photo'>, sigma: 1 })),
    };
    return { marks: [mark], rough: [rough] };
  });
  return { ways, start: null, leftOut: [], leastEdgeSigma: LEAST_EDGE_SIGMA, bias: BIAS, least: 1 };
}
