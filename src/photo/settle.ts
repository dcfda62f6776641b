import type { Point } from '../geometry';
import type { FacePicture } from '../raster';
import { edgeCost, type Kind, pointAt, type Station, sampleBand, shortestPath } from './band';

/** The last, fine search: how far to either side, and over what width wood and beyond are compared, mm. */
const FINE = 6;
const FINE_REACH = 1.5;
/** Less change of colour than this share of a clear one leaves the edge to its neighbours. */
const UNSURE = 0.3;

export interface Settled {
  readonly line: readonly Point<'face'>[];
  /** Share of the stations, 0..1, at which no clear edge was found. */
  readonly unsure: number;
}

/** Stations moved to the clearest edge within FINE mm, to a fraction of a pixel. */
export function settle(
  picture: FacePicture,
  hides: Uint8Array,
  stations: readonly Station[],
  kind: Kind,
  bend: number,
): Settled {
  const band = sampleBand(picture, hides, stations, -FINE, FINE, 0.25);
  const cost = edgeCost(band, kind, FINE_REACH);
  const path = shortestPath(cost, band.columns, { most: 4, bend });
  const line = stations.map((station, i) => {
    const c = path[i] as number;
    const [before, here, after] = [c - 1, c, c + 1].map((k) => cost[i * band.columns + k] ?? 0) as [
      number,
      number,
      number,
    ];
    const curve = before - 2 * here + after;
    const shift =
      c > 0 && c < band.columns - 1 && curve > 1e-6 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * curve))) : 0;
    return pointAt(band, station, c + shift);
  });
  const unsure = stations.filter((_, i) => -(cost[i * band.columns + (path[i] as number)] as number) < UNSURE).length;
  return { line, unsure: unsure / stations.length };
}
