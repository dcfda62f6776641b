import { offset, type Point, type Polygon } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import type { Cv } from './cv';
import { CARD_MARGIN } from './dictionary';
import { seeMarkers } from './markers';
import { type Measure, measure } from './measure';
import { findSheet } from './sheet';
import type { Laid } from './trace-types';
import { calibrationAt, scaleOfCopy } from './working-copy';

/** A rod whose width is not given is about this wide, mm (a tape or a batten). */
const ROD_WIDTH = 40;

/**
 * What the reference covers on the face. With a drop it lies beside the slab, not on it.
 * @param photo the photo that was calibrated, or a smaller copy of all of it
 * @param given the reference, in pixels of the photo
 */
export function laidOf(cv: Cv, photo: Raster, given: Scale, calibration: Calibration): Laid[] {
  const scale = scaleOfCopy(given, calibration, photo);
  const view = measure(calibrationAt(calibration, photo));
  const onWood = !scale.drop;
  const ring = (corners: readonly Point<'photo'>[]): Polygon<'face'> | null => {
    const places = corners.map((px) => view.place(px));
    return places.every((place) => place !== null) ? places : null;
  };
  const laid = (corners: readonly Point<'photo'>[], wider: number): Laid[] => {
    const polygon = ring(corners);
    const grown = polygon && (wider > 0 ? offset([{ outer: polygon, holes: [] }], wider, 'mitre')[0]?.outer : polygon);
    return grown ? [{ polygon: grown, onWood }] : [];
  };
  switch (scale.kind) {
    case 'markers':
      return seeMarkers(cv, photo).seen.flatMap(({ corners }) => laid(corners, CARD_MARGIN * scale.side));
    case 'paper': {
      const aspect = Math.max(scale.width, scale.height) / Math.min(scale.width, scale.height);
      const sheet = findSheet(cv, photo, aspect);
      return sheet ? laid(sheet.corners, 0) : [];
    }
    case 'rods':
      return scale.rods.flatMap(({ px: [a, b], corners, width = ROD_WIDTH }) =>
        corners ? laid(corners, 0) : along(view, a, b, width).map((polygon) => ({ polygon, onWood })),
      );
    case 'points':
      return [];
  }
}

/** A rod of which only the ends were clicked. */
function along(view: Measure, from: Point<'photo'>, to: Point<'photo'>, width: number): Polygon<'face'>[] {
  const [a, b] = [view.place(from), view.place(to)];
  if (!a || !b) return [];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [nx, ny] = [(-(b[1] - a[1]) / length) * (width / 2), ((b[0] - a[0]) / length) * (width / 2)];
  return [
    [
      [a[0] + nx, a[1] + ny],
      [b[0] + nx, b[1] + ny],
      [b[0] - nx, b[1] - ny],
      [a[0] - nx, a[1] - ny],
    ],
  ];
}
