import type { Point, Polygon } from '../geometry';
import type { Calibration, Face, FaceName, Job, Picture, Slab } from '../job';
import { measure, outlineDoubt } from '../photo';
import type { PhotoPlace } from './record-trace';

/**
 * Writes a photo that was measured anew into the job (a draft, changed in place): its calibration and the picture of the face by it. What
 * was traced, drawn or marked on the face stays on the spots of the photo that it was on: each point goes to the pixel that showed it, and
 * from there to where that pixel lies now. Widths of cracks are left: they change by less than a photo shows. Readings stay, too: they were
 * taped on the wood.
 * A place that the job does not have is left alone.
 */
export function recordRemeasure(draft: Job, place: PhotoPlace, calibration: Calibration, picture: Picture): void {
  const slab = draft.flitches[place.flitch]?.slabs[place.slab];
  const face = slab?.faces[place.face];
  const photo = face?.photos[place.photo];
  if (!slab || !face || !photo?.calibration) return;
  const [before, after] = [measure(photo.calibration), measure(calibration)];
  // A spot that neither measure sees, beyond the horizon, is no spot of the wood.
  const doubt = (by: Calibration) => (face.outline ? outlineDoubt(photo.scale, by, face.outline.outer) : 0);
  const doubtBefore = doubt(photo.calibration);
  const move = (p: Point<'face'>): Point<'face'> => after.place(before.toPhoto(p)) ?? p;
  moveFace(face, move);
  moveMarks(slab, place.face, move);
  if (face.outlineSigma !== null) {
    // Of the outline's own doubt only the camera's part is new.
    const followed = Math.max(0, face.outlineSigma ** 2 - doubtBefore ** 2);
    face.outlineSigma = Math.hypot(Math.sqrt(followed), doubt(calibration));
  }
  photo.calibration = calibration;
  face.picture = picture;
}

type Move = (p: Point<'face'>) => Point<'face'>;

/** Moves all that was traced, drawn or marked on a face. */
export function moveFace(face: Face, move: Move): void {
  const ring = (points: Polygon<'face'>) => points.map(move);
  if (face.outline) face.outline = { outer: ring(face.outline.outer), holes: face.outline.holes.map(ring) };
  face.bark = face.bark && ring(face.bark);
  face.unseen = face.unseen.map((line) => line.map(move));
  face.sapwood = face.sapwood.map(ring);
  face.pith = face.pith?.map(move) ?? null;
  face.grainLines = face.grainLines.map((line) => line.map(move));
  for (const stroke of face.strokes) stroke.line = stroke.line.map(move);
  face.hidden = face.hidden.map(ring);
  for (const defect of Object.values(face.defects)) {
    if (defect.polygon) defect.polygon = ring(defect.polygon);
    if (defect.line) {
      defect.line = defect.line.map(([x, y, width]) => {
        const [movedX, movedY] = move([x, y]);
        return [movedX, movedY, width];
      });
    }
  }
}

/** Marks, what was taped between them, and ties are spots of the face that a photo shows. */
export function moveMarks(slab: Slab, side: FaceName, move: Move): void {
  if ((slab.marksFace ?? 'top') === side) {
    if (slab.marks) slab.marks = [move(slab.marks[0]), move(slab.marks[1])];
    for (const tape of slab.tapes ?? []) tape.ends = [move(tape.ends[0]), move(tape.ends[1])];
  }
  if (slab.tie && side === 'top') slab.tie.top = [move(slab.tie.top[0]), move(slab.tie.top[1])];
}
