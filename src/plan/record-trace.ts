import { ringArea } from '../geometry';
import type { Defect, Face, Job, Photo, Picture } from '../job';
import type { FaceOfShots, FaceRead } from '../photo';
import { InputProblem } from '../units';

/** Where a photo belongs in the job. */
export interface PhotoPlace {
  readonly flitch: string;
  readonly slab: string;
  readonly face: 'top' | 'bottom';
  readonly photo: string;
}

/** A crack shorter than this, mm, is not worth a key: it is filled (practice). */
const KEYED_FROM = 150;

const lengthOf = (line: NonNullable<Defect['line']>): number =>
  line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - (line[i]?.[0] ?? x), y - (line[i]?.[1] ?? y)), 0);

/** A void or bark inclusion smaller than this, mm2 (about 14 mm across), is filled where it lies and costs no wood (practice, no source). */
const FILLED_UNDER = 150;

/** What a maker usually allows of a defect of this kind and size, until told otherwise (practice). */
export function usualPermit({ kind, line, polygon }: Pick<Defect, 'kind' | 'line' | 'polygon'>): Defect['permit'] {
  switch (kind) {
    case 'knot':
    case 'stain':
      return 'allow';
    case 'crack':
      return lengthOf(line ?? []) >= KEYED_FROM ? 'keyed' : 'allow';
    case 'void':
    case 'bark inclusion':
      return ringArea(polygon ?? []) >= FILLED_UNDER ? 'avoid' : 'allow';
    case 'shake':
    case 'rot':
    case 'pith':
      return 'avoid';
  }
}

function asDefect(proposed: FaceRead['traced']['defects'][number], id: string): Defect {
  const { kind, confidence } = proposed;
  const shape: Pick<Defect, 'line' | 'polygon'> =
    proposed.kind === 'crack' ? { line: proposed.line.map(([x, y, w]) => [x, y, w]) } : { polygon: proposed.polygon };
  return { id, kind, confidence, permit: usualPermit({ kind, ...shape }), ...shape };
}

/**
 * Writes what a photo told into the job (a draft, changed in place). Defects that are there already stay: a person may have settled them;
 * proposals come only to a face that has none.
 * @param picture where the rectified picture was stored
 * @throws InputProblem when the job has no such photo
 */
export function recordTrace(
  draft: Job,
  place: PhotoPlace,
  traced: Pick<FaceRead, 'calibration' | 'traced'>,
  picture: Picture,
): void {
  const face = draft.flitches[place.flitch]?.slabs[place.slab]?.faces[place.face];
  const photo = face?.photos[place.photo];
  if (!face || !photo) {
    throw new InputProblem(
      `The job has no photo "${place.photo}" there.`,
      `/flitches/${place.flitch}/slabs/${place.slab}/faces/${place.face}/photos/${place.photo}`,
      'Add the photo again.',
    );
  }
  recordFace(face, photo, traced, picture);
}

/** Writes what a photo told into its face. Defects that are there already stay. */
export function recordFace(
  face: Face,
  photo: Photo,
  traced: Pick<FaceRead, 'calibration' | 'traced'>,
  picture: Picture,
): void {
  photo.calibration = traced.calibration;
  // A photo that was measured by the slab's own length and widths makes way for any other: nothing in it ties it to another's frame.
  for (const other of Object.values(face.photos))
    if (other.id !== photo.id && other.scale.kind === 'slab') other.calibration = null;
  const { outline, bark, outlineSigma, sapwood, sapwoodTold, unseen, defects, hidden, pith } = traced.traced;
  face.outline = outline;
  face.outlineByHand = false;
  face.bark = bark;
  face.outlineSigma = outlineSigma;
  face.sapwood = [...sapwood];
  face.sapwoodTold = sapwoodTold;
  face.unseen = unseen.map((line) => [...line]);
  face.hidden = [...hidden];
  // As with defects: a person may have settled it.
  face.pith ??= pith ? [...pith.line] : null;
  face.picture = picture;
  if (Object.keys(face.defects).length === 0) proposeDefects(face, defects);
}

/**
 * Writes what several photos told of a face into the job, as `recordTrace` does for one.
 * @param photos their ids, in the order of the calibrations
 * @throws InputProblem when the job has no such photo
 */
export function recordShots(
  draft: Job,
  place: Omit<PhotoPlace, 'photo'>,
  photos: readonly string[],
  { calibrations, traced }: Pick<FaceOfShots, 'calibrations' | 'traced'>,
  picture: Picture,
): void {
  photos.forEach((photo, i) => {
    const calibration = calibrations[i] as FaceOfShots['calibrations'][number];
    recordTrace(draft, { ...place, photo }, { calibration, traced }, picture);
  });
}

/** Adds proposed defects to a face (of a draft), under names that are free. */
export function proposeDefects(face: Face, defects: FaceRead['traced']['defects']): void {
  let number = 0;
  for (const proposed of defects) {
    do number++;
    while (face.defects[`d${number}`]);
    face.defects[`d${number}`] = asDefect(proposed, `d${number}`);
  }
}
