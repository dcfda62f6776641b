import { bounds, type Point } from '../geometry';
import type { Face, Picture } from '../job';
import { reframedCalibration } from '../photo';

/** Where a face turned end for end in its plane has what was at a place: its outline's box stays where it is. */
export function turnOf({ outline }: Pick<Face, 'outline'>): (at: Point<'face'>) => Point<'face'> {
  const { minX, minY, maxX, maxY } = bounds(outline?.outer ?? [[0, 0]]);
  return ([x, y]) => [minX + maxX - x, minY + maxY - y];
}

/** Where the picture of a face lies after it was turned by half. */
export function turnedPicture(face: Face, picture: Picture): Omit<Picture, 'file'> {
  const { mmPerPx, width, height, x0, y0 } = picture;
  const [x, y] = turnOf(face)([x0 + width * mmPerPx, y0 + height * mmPerPx]);
  return { mmPerPx, width, height, x0: x, y0: y };
}

/**
 * Turns a leaf's face (of a draft, changed in place) end for end: it was photographed the other way round than its neighbours. What is drawn on it goes
 * along, and its photo is measured in the new frame.
 * @param picture its rectified picture turned by half, as it was stored; null where it has none
 */
export function turnFace(face: Face, picture: Picture | null): void {
  const turn = turnOf(face);
  const all = (ring: readonly Point<'face'>[]): Point<'face'>[] => ring.map(turn);
  const corner = turn([0, 0]);
  for (const photo of Object.values(face.photos))
    if (photo.calibration)
      photo.calibration = reframedCalibration(photo.calibration, { at: [corner[0], corner[1]], radians: Math.PI });
  if (face.outline) face.outline = { outer: all(face.outline.outer), holes: face.outline.holes.map(all) };
  face.bark = face.bark && all(face.bark);
  face.unseen = face.unseen.map(all);
  face.sapwood = face.sapwood.map(all);
  face.pith = face.pith && all(face.pith);
  face.grainLines = face.grainLines.map(all);
  face.hidden = face.hidden.map(all);
  face.strokes = face.strokes.map(({ kind, line }) => ({ kind, line: all(line) }));
  for (const defect of Object.values(face.defects)) {
    if (defect.polygon) defect.polygon = all(defect.polygon);
    if (defect.line)
      defect.line = defect.line.map(([x, y, width]) => {
        const [u, v] = turn([x, y]);
        return [u, v, width];
      });
  }
  face.picture = picture;
}
