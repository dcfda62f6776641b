import { signal } from '@preact/signals';
import type { CameraTraits } from '../../../../../workers/camera';
import type { Calibration, Photo, ReferenceDraft, Scale } from '../../../../job';
import { lensLearnt } from '../../../../photo';
import { lensOf } from '../../../camera-lens';
import { keepLens, refreshLenses } from '../../../lenses';
import type { KeptLens } from '../../../shelf';
import { photoWork } from '../../../work';
import type { StockView } from '../view';

/** This camera's lens: what earlier photos taught about it, for a photo that looks like the same camera's. */

/** The camera that took a photo, and the kept lens that may be its own. */
export interface PhotoLens {
  readonly camera: CameraTraits;
  readonly found: { readonly lens: KeptLens; readonly sure: boolean } | null;
}

/** By the name of the photo's file, as far as they were looked at. */
export const photoLenses = signal<ReadonlyMap<string, PhotoLens>>(new Map());

const unheard = () => {};

/** Looks at what a photo says of its camera, and for a lens kept of it. Null where the photo is not stored. */
export async function lookForLens(view: StockView, photo: Photo, known?: Blob): Promise<PhotoLens | null> {
  const seen = photoLenses.peek().get(photo.file);
  const blob = seen ? null : (known ?? (await view.store.file(photo.file)));
  if (!seen && !blob) return null;
  const camera =
    seen?.camera ??
    (await photoWork.call(new AbortController().signal, unheard, (api, id) =>
      api.camera(id, blob as Blob, photo.width, photo.height),
    ));
  const lens = { camera, found: lensOf(camera, await refreshLenses()) };
  photoLenses.value = new Map(photoLenses.peek()).set(photo.file, lens);
  return lens;
}

/**
 * Whether the kept lens is used with this reference: as a person said, or else where it is surely the same camera's and the reference
 * cannot teach one itself, as a sheet or rods cannot.
 */
export function usesLens({ kind, lens }: Pick<ReferenceDraft, 'kind' | 'lens'>, found: PhotoLens['found']): boolean {
  if (!found) return false;
  return lens ?? (found.sure && (kind === 'paper' || kind === 'rods'));
}

/** A kept lens as a scale takes it. */
export const asGiven = ({ focal, k1, focalSigma, k1Sigma }: KeptLens): NonNullable<Scale['lens']> => ({
  focal,
  k1,
  focalSigma,
  k1Sigma,
});

/** Keeps what a photo taught about its camera, where it was not told it before. A shelf that is full keeps nothing, and no one is troubled. */
export async function learnLens(view: StockView, photo: Photo, scale: Scale, calibration: Calibration): Promise<void> {
  if (scale.kind !== 'markers' || (scale.lens && !calibration.lensRefused)) return;
  const learnt = lensLearnt(calibration);
  const seen = learnt && (await lookForLens(view, photo).catch(() => null));
  if (!learnt || !seen) return;
  const day = seen.camera.day ?? view.store.job.peek().date;
  const kept = await keepLens({ ...learnt, camera: seen.camera, day }).catch(() => false);
  if (kept) await lookForLens(view, photo);
}
