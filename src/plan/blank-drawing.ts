import {
  type BlankFlattening,
  type BlankSurfaces,
  type Section,
  type StandingWood,
  sectionOf,
  standingWood,
} from '../flattening';
import { type Affine, applyAll, bounds, invert, type Segment } from '../geometry';
import { findSlab, type Job, type Strip } from '../job';
import { fromFarFace, stripMap, surfacesOf } from '../layout';

/** Lines along which a blank is looked at from the side. */
export type UsualLine = 'along' | 'across' | 'corner to corner';

/** One of the usual lines of a strip's blank, in the frame of the face that is up: along and across by the top's own directions. */
export function usualLine(strip: Strip, which: UsualLine): Segment<'face'> {
  const toFace = invert(stripMap(strip));
  const { minX, maxX, minY, maxY } = bounds(applyAll(stripMap(strip), strip.rough));
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const ends = {
    along: [
      [minX, y],
      [maxX, y],
    ],
    across: [
      [x, minY],
      [x, maxY],
    ],
    'corner to corner': [
      [minX, minY],
      [maxX, maxY],
    ],
  } as const;
  return applyAll(toFace, ends[which]) as unknown as Segment<'face'>;
}

/** The drawings of one blank of a plan. Lines and places are in the frame of the face that is up. */
export interface BlankDrawing {
  section(line: Segment<'face'>): Section;
  /** What the passes take off, place by place; of a blank on the lower face in the readings' frame, `toUp` carries it back. */
  standing(): { readonly wood: StandingWood; readonly toUp: Affine<'face', 'face'> };
}

/** Null where the slab has no readings, or nothing ties the face that is up to them. */
export function blankDrawing(
  job: Job,
  strip: Strip,
  blank: BlankFlattening,
  known?: BlankSurfaces | null,
): BlankDrawing | null {
  const { slab } = findSlab(job, strip.flitch, strip.slab);
  const faces = known ?? surfacesOf(slab);
  if (!faces || (strip.face === 'bottom' && !slab.tie)) return null;
  const toReadings: Affine<'face', 'face'> =
    strip.face === 'bottom' && slab.tie ? fromFarFace(slab.tie) : { m: [1, 0, 0, 1, 0, 0] };
  const carried = <T extends Segment<'face'> | Strip['rough']>(points: T): T =>
    applyAll(toReadings, points) as unknown as T;
  return {
    section: (line) => sectionOf(faces, blank, carried(line)),
    standing: () => ({ wood: standingWood(faces, carried(strip.rough), blank), toUp: invert(toReadings) }),
  };
}
