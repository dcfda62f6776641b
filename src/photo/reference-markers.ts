import type { Scale } from '../job';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { type SeenMarker, seeMarkers } from './markers';
import type { Local, Mark } from './marks';
import { ROUGHLY_FLAT } from './marks';
import type { Reference } from './reference-type';

/** One standard deviation of a side as measured on the print with a rule, mm. Common practice, no source. */
const SIDE_SIGMA = 0.05;
/** One standard deviation of where lines between cells are printed, as a share of the side: half a pixel of a print 170 px wide. */
const LINE_SIGMA = 0.003;
/** One standard deviation of a centre's place as measured on the slab, mm. */
const CENTRE_SIGMA = 0.5;
/** White grows over black by 0.2 to 0.6 px at half the grey, in any camera (our own trials on rendered photos). */
const BIAS = { mean: 0.4, sigma: 0.3 };
/** A cell's edges of a sharp photo are found to some hundredths of a pixel. */
const LEAST_EDGE_SIGMA = 0.05;

export const BY_HAND = 'or place four points by hand';

/** The markers of a photo as marks. `rough` has their corners instead of edges, for the first guess. */
export function markerMarks(cv: Cv, photo: Raster, scale: Extract<Scale, { kind: 'markers' }>): Reference {
  const { seen: sharp, poor } = seeMarkers(cv, photo);
  if (sharp.length === 0 && poor.length > 0) {
    throw new InputProblem(
      `The photo is too blurred, or taken from too far away, to measure by: the cells of marker ${poor[0]} run into each other.`,
      '',
      `Hold the camera still, let it focus on the slab, use its full resolution, and take the photo again; ${BY_HAND}.`,
    );
  }
  if (sharp.length === 0 && seeMarkers(cv, mirrored(photo)).seen.length > 0) {
    throw new InputProblem(
      'The markers in this photo are mirror images, and so cannot be told apart.',
      '',
      'Turn mirroring off in the camera (front cameras mirror) or in the print settings, and take the photo again.',
    );
  }
  if (sharp.length === 0) {
    throw new InputProblem(
      'No square marker of the 4x4_50 kind was found in this photo.',
      '',
      `Lay whole markers, white border and all, on the slab and take the photo again, sharp and evenly lit; ${BY_HAND}.`,
    );
  }
  for (const id of Object.keys(scale.centres ?? {})) {
    if (Number(id) > 49) {
      throw new InputProblem(
        `There is no marker ${id} in dictionary 4x4_50.`,
        `/centres/${id}`,
        'Use numbers from 0 to 49.',
      );
    }
  }
  return markerReference(sharp, poor, scale);
}

/** Markers that were found, and the numbers of those that were too poor to measure by. */
export function markerReference(
  sharp: readonly SeenMarker[],
  poor: readonly number[],
  scale: Pick<Extract<Scale, { kind: 'markers' }>, 'side' | 'centres'>,
): Reference {
  const marks = sharp.map((marker): Mark => {
    const at = scale.centres?.[String(marker.id)];
    return {
      name: `marker ${marker.id}`,
      points: [],
      edges: marker.edges.map((edge) => ({ ...edge, at: [edge.at[0] * scale.side, edge.at[1] * scale.side] })),
      known: at ? { at, sigma: CENTRE_SIGMA } : null,
      turns: true,
      above: 0,
      ...ROUGHLY_FLAT,
      sizeSigma: SIDE_SIGMA / scale.side,
      lineSigma: LINE_SIGMA * scale.side,
      dimension: { name: 'side', mm: scale.side },
    };
  });
  const half = scale.side / 2;
  const square: Local[] = [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ];
  const rough = marks.map((mark, i) => ({
    ...mark,
    edges: [],
    points: square.map((at, k) => ({
      at,
      px: (sharp[i] as SeenMarker).corners[k] as SeenMarker['corners'][0],
      sigma: 1,
    })),
  }));
  return {
    ways: [{ marks, rough }],
    start: null,
    leftOut: poor.map((id) => `marker ${id}`),
    leastEdgeSigma: LEAST_EDGE_SIGMA,
    bias: BIAS,
    least: 3,
  };
}

/** The photo as a mirror shows it. */
function mirrored({ width, height, channels, data }: Raster): Raster {
  const out = new Uint8ClampedArray(data.length);
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const [from, to] = [(row * width + column) * channels, (row * width + width - 1 - column) * channels];
      for (let c = 0; c < channels; c++) out[to + c] = data[from + c] as number;
    }
  }
  return { width, height, channels, data: out };
}
