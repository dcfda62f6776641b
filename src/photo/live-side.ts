import type { Point } from '../geometry';
import { type Band, pointAt, type Station, shortestPath, stationsAlong } from './band';
import type { Side } from './sides';

/** Lines that run along a live side: where the sapwood begins within it, and where the bark ends beyond it. */

/** Stations along a side, mm apart. */
const STEP = 2;
/** Clearness over a whole side, 0..1, from which a line along it is believed: rings, stains and shadows do not run so far unbroken. */
const BELIEVED = 0.6;

/** Stations along a side's edge, their normals outwards. */
export function stationsOn({ line, outward }: Side): Station[] {
  const kept: Point<'face'>[] = [];
  for (const p of line) {
    const last = kept.at(-1);
    if (!last || Math.hypot(p[0] - last[0], p[1] - last[1]) >= STEP) kept.push(p);
  }
  return stationsAlong(kept, outward);
}

/**
 * The clearest line along a side, or null where it is not clear over the most of it.
 * @param clear how clear a line would be at each sample of the band; 1 and more is beyond doubt
 */
export function clearLine(band: Band, clear: Float32Array): Point<'face'>[] | null {
  // Beyond doubt is not the same everywhere: the line lies where it is clearest, but is believed by how much of it is clear.
  const path = shortestPath(
    clear.map((v) => -v),
    band.columns,
    { most: 2, bend: 0.1 },
  );
  const evidence = Array.from(path, (c, i) => Math.min(1, clear[i * band.columns + c] as number)).reduce(
    (a, b) => a + b,
    0,
  );
  if (evidence < BELIEVED * path.length) return null;
  return band.stations.map((station, i) => pointAt(band, station, path[i] as number));
}
