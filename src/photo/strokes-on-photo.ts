import type { Point } from '../geometry';
import type { Calibration, Face, Photo } from '../job';
import { measure } from './measure';
import type { ReadFaceOptions } from './read-face';

type PhotoStrokes = NonNullable<ReadFaceOptions['strokes']>;

/** A tap counts as a stroke so long to either side, as a share of the photo's width: it must be seen on a small copy. */
const TAP = 0.01;

/**
 * What a person drew or tapped on a face, as each of its photos is to be read with it: the tap that says which slab is meant, and every
 * stroke on the photo that shows most of it. A stroke that no photo shows any more is left out.
 * @param photos with the calibrations that the face has now
 * @param strokes mm on the face
 * @returns for each photo, lines in its px
 */
export function strokesOnPhotos(photos: readonly Photo[], strokes: Face['strokes']): PhotoStrokes[] {
  const taken = photos.map(tapOn);
  const views = photos.map(({ calibration }) => calibration && measure(calibration));
  for (const { kind, line } of strokes) {
    const lines = views.map((view) => (view ? line.map((at) => view.toPhoto(at)) : []));
    const shown = lines.map((px, i) => px.filter((at) => isOn(photos[i] as Photo, at)).length);
    const most = Math.max(0, ...shown);
    const best = shown.indexOf(most);
    // The camera sees nothing of what lies behind it.
    if (most > 0) taken[best]?.push({ kind, line: (lines[best] ?? []).filter(([u, v]) => Number.isFinite(u + v)) });
  }
  return taken;
}

/** Strokes of a face (mm) after its photo was measured anew: they stay where they lie on the photo. */
export function strokesMoved(strokes: Face['strokes'], before: Calibration, after: Calibration): Face['strokes'] {
  const [from, to] = [measure(before), measure(after)];
  return strokes.flatMap(({ kind, line }) => {
    const moved = line.map((at) => to.place(from.toPhoto(at))).filter((at) => at !== null);
    return moved.length > 1 ? [{ kind, line: moved }] : [];
  });
}

function tapOn({ slabAt, width }: Photo): PhotoStrokes[number][] {
  if (!slabAt) return [];
  const [u, v] = slabAt;
  const line: Point<'photo'>[] = [
    [u - TAP * width, v],
    [u + TAP * width, v],
  ];
  return [{ kind: 'wood', line }];
}

const isOn = ({ width, height }: Photo, [u, v]: Point<'photo'>): boolean => u >= 0 && v >= 0 && u < width && v < height;
