import { useEffect, useState } from 'preact/hooks';
import { type Affine, compose } from '../../../geometry';
import type { FaceName, Job, Picture } from '../../../job';
import { farFaceMap, leafKey } from '../../../plan';
import type { JobStore } from '../../store';

/** Pictures of leaves on the screen, mm a pixel: finer than any screen shows a set. */
const MM_PER_PX = 1;

/** A leaf's picture, and the map from its pixels to the frame of the leaf's top face. */
export interface LeafImage {
  readonly image: HTMLCanvasElement;
  readonly map: Affine<'rectified', 'face'>;
}

/** By `leafKey`. */
export type LeafImages = ReadonlyMap<string, LeafImage>;

const kept = new WeakMap<JobStore, Map<string, Promise<HTMLCanvasElement | null>>>();
const NONE: LeafImages = new Map();

/** The pictures of all leaves, as they come; each is read once for as long as the job is open. */
export function useLeafImages(store: JobStore): LeafImages {
  const { boards } = store.job.value;
  const [shown, setShown] = useState<LeafImages>(NONE);
  useEffect(() => {
    let live = true;
    void loaded(store, boards).then((images) => {
      if (live) setShown(images);
    });
    return () => {
      live = false;
    };
  }, [store, boards]);
  return shown;
}

async function loaded(store: JobStore, boards: Job['boards']): Promise<LeafImages> {
  const images = new Map<string, LeafImage>();
  for (const board of Object.values(boards)) {
    for (const leaf of Object.values(board.leaves)) {
      for (const face of ['top', 'bottom'] as const satisfies readonly FaceName[]) {
        const { picture } = leaf.faces[face];
        const image = picture && (await copied(store, picture));
        if (!picture || !image) continue;
        const size = (picture.width / image.width) * picture.mmPerPx;
        const own: Affine<'rectified', 'face'> = { m: [size, 0, 0, size, picture.x0, picture.y0] };
        images.set(leafKey(board.id, leaf.id, face), {
          image,
          map: face === 'top' ? own : compose(farFaceMap(leaf), own),
        });
      }
    }
  }
  return images;
}

function copied(store: JobStore, { file, width, height, mmPerPx }: Picture): Promise<HTMLCanvasElement | null> {
  const own = kept.get(store) ?? new Map<string, Promise<HTMLCanvasElement | null>>();
  kept.set(store, own);
  const known = own.get(file);
  if (known) return known;
  const share = Math.min(1, mmPerPx / MM_PER_PX);
  const made = store.file(file).then(async (blob) => {
    const bitmap = blob && (await createImageBitmap(blob).catch(() => null));
    if (!bitmap) return null;
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(width * share));
    canvas.height = Math.max(1, Math.round(height * share));
    const ink = canvas.getContext('2d');
    if (ink) ink.imageSmoothingQuality = 'high';
    ink?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    return canvas;
  });
  own.set(file, made);
  return made;
}

/** The picture that a piece shows: its own face's, or the other face's where only that was photographed. */
export function imageOf(images: LeafImages, piece: { board: string; leaf: string; face: FaceName }): LeafImage | null {
  const at = (face: FaceName) => images.get(leafKey(piece.board, piece.leaf, face));
  return at(piece.face) ?? at(piece.face === 'top' ? 'bottom' : 'top') ?? null;
}
