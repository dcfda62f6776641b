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

/** The kept lens that may be a photo's own, and whether it surely is. */
export type FoundLens = ReturnType<typeof lensOf>;

/** What photos say of their cameras, by the names of their files, as far as they were looked at. */
export const cameras = signal<ReadonlyMap<string, CameraTraits>>(new Map());

const unheard = () => {};

/** What a photo says of its camera. @throws Error where the photo is not stored */
async function cameraOf(
  view: StockView,
  { file, width, height }: Photo,
  known?: Blob,
  signal = new AbortController().signal,
): Promise<CameraTraits> {
  const seen = cameras.peek().get(file);
  if (seen) return seen;
  const blob = known ?? (await view.store.file(file));
  if (!blob) throw new Error(`the photo ${file} is not stored`);
  const camera = await photoWork.call(signal, unheard, (api, id) => api.camera(id, blob, width, height));
  cameras.value = new Map(cameras.peek()).set(file, camera);
  return camera;
}

/** Looks at what a photo says of its camera, and for a lens kept of it. A photo that cannot be looked at has none. */
export async function lookForLens(
  view: StockView,
  photo: Photo,
  known?: Blob,
  signal?: AbortSignal,
): Promise<FoundLens> {
  const kept = await refreshLenses();
  const camera = await cameraOf(view, photo, known, signal).catch(() => null);
  return camera && lensOf(camera, kept);
}

/**
 * Whether the kept lens is used with this reference: as a person said, or else where it is surely the same camera's and the reference
 * cannot teach one itself, as a sheet or rods cannot.
 */
export function usesLens({ kind, lens }: Pick<ReferenceDraft, 'kind' | 'lens'>, found: FoundLens): boolean {
  if (!found) return false;
  return lens ?? (found.sure && (kind === 'paper' || kind === 'rods' || kind === 'slab'));
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
  const camera = learnt && (await cameraOf(view, photo).catch(() => null));
  if (!learnt || !camera) return;
  const day = camera.day ?? view.store.job.peek().date;
  await keepLens({ ...learnt, camera, day }).catch(() => false);
}
