import type { Point } from '../../../geometry';
import type { Calibration, Face, Photo } from '../../../job';
import { measure, type ReadFaceOptions } from '../../../photo';

/** What a person drew or tapped to say which wood is meant, as the reading of a photo takes it. Pure. */

type Strokes = NonNullable<ReadFaceOptions['strokes']>;

/** A tap counts as a stroke so long to either side, as a share of the photo's width: it must be seen on a small copy. */
const TAP = 0.01;

/** The strokes of a face carried onto the photo that it was measured from, and the tap that says which slab is meant; px. */
export function strokesOn({ slabAt, calibration, width }: Photo, face: Pick<Face, 'strokes'> | null): Strokes {
  const tap: Strokes = slabAt
    ? [
        {
          kind: 'wood',
          line: [
            [slabAt[0] - TAP * width, slabAt[1]],
            [slabAt[0] + TAP * width, slabAt[1]],
          ],
        },
      ]
    : [];
  if (!calibration || !face) return tap;
  const view = measure(calibration);
  return [...tap, ...face.strokes.map(({ kind, line }) => ({ kind, line: line.map((at) => view.toPhoto(at)) }))];
}

/** Strokes of a face after its photo was measured anew: they stay where they lie on the photo. */
export function strokesMoved(strokes: Face['strokes'], before: Calibration, after: Calibration): Face['strokes'] {
  const [from, to] = [measure(before), measure(after)];
  return strokes.flatMap(({ kind, line }) => {
    const moved = line.map((at) => to.place(from.toPhoto(at))).filter((at): at is Point<'face'> => at !== null);
    return moved.length > 1 ? [{ kind, line: moved }] : [];
  });
}
