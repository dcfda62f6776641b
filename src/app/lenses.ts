import { signal } from '@preact/signals';
import { isNamed, lensId } from './camera-lens';
import type { KeptLens, LensShelf } from './shelf';
import { browserLenses } from './storage';

/** What good photos taught about the lenses of this person's cameras, kept in this browser. */

const shelf: LensShelf = browserLenses();

/** The kept lenses; null until they were read. */
export const lenses = signal<readonly KeptLens[] | null>(null);

/** Reads the kept lenses anew: another tab may have learnt or forgotten one. A shelf that cannot be read keeps none. */
export async function refreshLenses(): Promise<readonly KeptLens[]> {
  lenses.value = await shelf.list().catch(() => []);
  return lenses.value;
}

/** Keeps what a photo taught, unless what is kept already is much surer and agrees with it. @returns whether it was kept */
export async function keepLens(lens: KeptLens): Promise<boolean> {
  if (!isNamed(lens.camera)) return false;
  const id = lensId(lens.camera);
  const old = (await refreshLenses()).find(({ camera }) => lensId(camera) === id);
  const apart = old ? Math.abs(old.focal - lens.focal) / Math.hypot(old.focalSigma, lens.focalSigma) : Infinity;
  if (old && old.focalSigma < lens.focalSigma / 1.5 && apart < 2) return false;
  await shelf.keep(id, lens);
  await refreshLenses();
  return true;
}

/** Forgets a camera's lens. */
export async function forgetLens({ camera }: KeptLens): Promise<void> {
  await shelf.forget(lensId(camera));
  await refreshLenses();
}
