import type { Point } from '../geometry';
import type { Scale } from '../job';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import type { LensBelief } from './adjustment';
import type { Cv } from './cv';
import type { Local, Mark, SeenEdge } from './marks';
import { ROUGHLY_FLAT } from './marks';
import { BY_HAND } from './reference-markers';
import type { Reference } from './reference-type';
import { lookForSheet, type SeenSheet } from './sheet';
import { roughly } from './start';

/** Cut paper is this exact, one standard deviation as a share of its side (ISO 216 allows 1.5 to 2 mm on A4; in practice far less). */
const SIZE_SIGMA = 0.001;

/** A long edge of paper is bent by its cut, its curl and its shadow, all along alike: px. */
const LEAST_EDGE_SIGMA = 0.15;

/** At half the light white grows by little: what the camera's curve differs from sRGB's, px (rendered photos: 0.05 to 0.1). */
const BIAS = { mean: 0.03, sigma: 0.1 };

/** Overexposed paper grows over what lies around it, px; how far depends on how much light there was (common practice, no source). */
const OVEREXPOSED = { mean: 0.4, sigma: 0.4 };

/** Sizes of paper that people have (ISO 216; ANSI Y14.1, from memory). */
const FORMATS = [
  { name: 'A4', size: [297, 210] },
  { name: 'US Letter', size: [279.4, 215.9] },
  { name: 'US Legal', size: [355.6, 215.9] },
] as const;
/** Corners within some tenths of a pixel fit with less than this; another size must fit better by so much (chi-square at 1 px). */
const FITS = 5;
const SPEAKS_AGAINST = 5;

/** The sheet in a photo as a mark, lying either way round. */
export function sheetMarks(
  cv: Cv,
  photo: Raster,
  scale: Extract<Scale, { kind: 'paper' }>,
  lens: LensBelief,
): Reference {
  const { width, height } = scale;
  const { sheet, spoilt } = lookForSheet(cv, photo, Math.max(width, height) / Math.min(width, height));
  if (!sheet && spoilt) {
    throw new InputProblem(
      'Something like a white sheet lies in this photo, but not all of its four sides can be seen straight and clean.',
      '',
      `Lay a flat, uncreased sheet so that all of it shows, with nothing on it or touching it, and take the photo again; ${BY_HAND}.`,
    );
  }
  if (!sheet) {
    throw new InputProblem(
      'No white sheet of paper was found in this photo.',
      '',
      `Lay one whole sheet flat on the slab, clear of other white things, and take the photo again; ${BY_HAND}.`,
    );
  }
  const reference = paperReference(sheet, width, height);
  const misfit = ({ ways }: Reference) => Math.min(...ways.map(({ rough }) => roughly(rough, lens, 0).fit.cost));
  const given = misfit(reference);
  for (const { name, size } of given > FITS ? FORMATS : []) {
    if (misfit(paperReference(sheet, size[0], size[1])) > given - SPEAKS_AGAINST) continue;
    throw new InputProblem(
      `The sheet in this photo does not have the sides of ${width} x ${height} mm: it fits ${name}, ${size.join(' x ')} mm, far better.`,
      '/width',
      'Say which size of paper lies on the slab, or measure the sheet and type its sides.',
    );
  }
  return reference;
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
  return {
    ways,
    start: null,
    leftOut: [],
    leastEdgeSigma: LEAST_EDGE_SIGMA,
    bias: sheet.overexposed ? OVEREXPOSED : BIAS,
    least: 1,
  };
}
