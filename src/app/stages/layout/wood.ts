import { useMemo } from 'preact/hooks';
import { type Affine, apply, applyAll, compose, type Polygon } from '../../../geometry';
import { faceKey, type Job, type Picture, type Placement, type Plan } from '../../../job';
import { stripInTop, stripMap } from '../../../layout';
import type { Item, XY } from '../../canvas/items';
import { useImages } from '../../parts/use-image';
import type { JobStore } from '../../store';

/** A face's picture, ready to be painted. */
interface FaceLook {
  readonly image: HTMLImageElement;
  /** A copy of half the size, for what is painted at every frame. */
  readonly small: HTMLCanvasElement;
  readonly picture: Picture;
}

/** The pictures of faces by faceKey. */
export type FaceLooks = ReadonlyMap<string, FaceLook>;

/** The wood of one strip as it lies in its top. */
export interface StripWood {
  readonly image: HTMLImageElement | HTMLCanvasElement;
  /** From the picture's pixels to the top, mm. */
  readonly map: Affine<'face', 'top'>;
  /** What of the picture is shown. */
  readonly ring: Polygon<'top'>;
}

/** The strip behind reaches this far under the one in front of it, mm: no paper shows through the joint. */
const UNDER = 0.7;

/** Pictures of all faces that the job's plans cut, and others. The same map until one of them changes. */
export function useFaceLooks(store: JobStore, others: readonly Plan[] = NONE): FaceLooks {
  const job = store.job.value;
  const faces = facesOf(job, [...Object.values(job.plans), ...others]);
  const images = useImages(
    store,
    faces.map(({ picture }) => picture.file),
  );
  return useMemo(
    () =>
      new Map(
        faces.flatMap(({ key, picture }, i) => {
          const image = images[i];
          return image ? [[key, { image, small: halved(image), picture }] as const] : [];
        }),
      ),
    [images],
  );
}

const NONE: readonly Plan[] = [];

function facesOf(job: Job, plans: readonly Plan[]): { key: string; picture: Picture }[] {
  const strips = plans.flatMap(({ placements }) => Object.values(placements).flatMap((placement) => placement.strips));
  const found = new Map<string, Picture>();
  for (const { flitch, slab, face } of strips) {
    const picture = job.flitches[flitch]?.slabs[slab]?.faces[face].picture;
    if (picture) found.set(faceKey(flitch, slab, face), picture);
  }
  return [...found].map(([key, picture]) => ({ key, picture }));
}

const copies = new WeakMap<HTMLImageElement, HTMLCanvasElement>();

/** A copy of half the size, made once. */
function halved(image: HTMLImageElement): HTMLCanvasElement {
  const known = copies.get(image);
  if (known) return known;
  const canvas = document.createElement('canvas');
  canvas.width = Math.ceil(image.naturalWidth / 2);
  canvas.height = Math.ceil(image.naturalHeight / 2);
  const ink = canvas.getContext('2d');
  if (ink) ink.imageSmoothingQuality = 'high';
  ink?.drawImage(image, 0, 0, canvas.width, canvas.height);
  copies.set(image, canvas);
  return canvas;
}

/**
 * The strips of a top in their order of painting: those behind first, and a little under the ones in front of them.
 * @param held whether its joint is in the hand, so that it is painted at every frame
 */
export function topWood({ strips }: Placement, looks: FaceLooks, held = false): StripWood[] {
  return strips
    .flatMap((strip): StripWood[] => {
      const look = looks.get(faceKey(strip.flitch, strip.slab, strip.face));
      if (!look) return [];
      const toTop = stripMap(strip);
      const ring = stripInTop(strip);
      const front = strip.jointFront ? apply(toTop, strip.jointFront[0])[1] : Number.NEGATIVE_INFINITY;
      return [{ ...laidLook(look, toTop, held), ring: ring.map(([x, y]) => [x, y < front + 0.05 ? y - UNDER : y]) }];
    })
    .reverse();
}

/** The blanks of a top as they come off the slabs, drawn apart by `apart` mm, the front one in its place. */
export function roughWood({ strips }: Placement, looks: FaceLooks, apart: number): (StripWood | null)[] {
  return strips.map((strip, i) => {
    const look = looks.get(faceKey(strip.flitch, strip.slab, strip.face));
    if (!look) return null;
    const toTop = shifted(stripMap(strip), i * apart);
    return { ...laidLook(look, toTop, false), ring: applyAll(toTop, strip.rough) };
  });
}

/** A map whose outcome is moved to the back by so many mm. */
export const shifted = ({ m: [a, b, c, d, e, f] }: Affine<'face', 'top'>, by: number): Affine<'face', 'top'> => ({
  m: [a, b, c, d, e, f + by],
});

function laidLook({ image, small, picture }: FaceLook, toTop: Affine<'face', 'top'>, held: boolean) {
  const { x0, y0 } = picture;
  const mm = picture.mmPerPx * (held ? image.naturalWidth / small.width : 1);
  const toFace: Affine<'face', 'face'> = { m: [mm, 0, 0, mm, x0, y0] };
  return { image: held ? small : image, map: compose(toTop, toFace) };
}

/** Strips of wood on the sheet. @param lay from the top to the sheet, an affine map */
export function woodItems(wood: readonly StripWood[], id: string, lay: (at: XY) => XY): Item[] {
  return wood.map(({ image, map: { m }, ring }, i) => {
    const [a, b, c, d, e, f] = m;
    const [ox, oy] = lay([0, 0]);
    const along = (x: number, y: number): XY => {
      const [px, py] = lay([x, y]);
      return [px - ox, py - oy];
    };
    return {
      kind: 'picture',
      id: `${id}-wood-${i}`,
      image,
      map: [...along(a, b), ...along(c, d), ...lay([e, f])],
      clip: ring.map(lay),
    };
  });
}

/** Paints strips of wood; the ink's frame is the top's, mm. */
export function paintWood(ink: CanvasRenderingContext2D, wood: readonly StripWood[]): void {
  for (const { image, map, ring } of wood) {
    ink.save();
    ink.beginPath();
    for (const [x, y] of ring) ink.lineTo(x, y);
    ink.closePath();
    ink.clip();
    ink.transform(...(map.m as [number, number, number, number, number, number]));
    ink.drawImage(image, 0, 0);
    ink.restore();
  }
}
