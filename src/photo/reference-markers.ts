import type { Scale } from '../job';
import type { Raster } from '../raster';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { type SeenMarker, seeMarkers } from './markers';
import type { Local, Mark } from './marks';
import { ROUGHLY_FLAT } from './marks';
import type { Reference } from './reference';

/** One standard deviation of a side as measured on the print with a rule, mm. Common practice, no source. */
const SIDE_SIGMA = 0.05;
/** One standard deviation of a centre's place as measured on the slab, mm. */
const CENTRE_SIGMA = 0.5;
/** A cell's edges of a sharp photo are found to some hundredths of a pixel. */
const LEAST_EDGE_SIGMA = 0.05;
/** Edges wider than this share of a cell run into each other. */
const BLUR_LIMIT = 0.6;

export const BY_HAND = 'or place four points by hand';

/** The markers of a photo as marks. `rough` has their corners instead of edges, for the first guess. */
export function markerMarks(cv: Cv, photo: Raster, scale: Extract<Scale, { kind: 'markers' }>): Reference {
  const seen = seeMarkers(cv, photo);
  if (seen.length === 0) {
    throw new InputProblem(
      'No square marker of the 4x4_50 kind was found in this photo.',
      '',
      `Lay whole markers, white border and all, on the slab and take the photo again, sharp and evenly lit; ${BY_HAND}.`,
    );
  }
  const sharp = seen.filter((marker) => marker.blur < BLUR_LIMIT * marker.cell);
  if (sharp.length === 0) {
    const { id, blur } = seen[0] as SeenMarker;
    throw new InputProblem(
      `The photo is blurred: the edges of marker ${id} spread over ${blur.toFixed(0)} pixels.`,
      '',
      `Hold the camera still, let it focus on the slab and take the photo again; ${BY_HAND}.`,
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
  return { ways: [{ marks, rough }], start: null, leastEdgeSigma: LEAST_EDGE_SIGMA, least: 3 };
}
