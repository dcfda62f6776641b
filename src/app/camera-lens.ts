import type { CameraTraits } from '../../workers/camera';
import type { KeptLens } from './shelf';

/** Which camera's lens is which. Pure. */

/** Focal lengths that differ by more than this share are another lens or another zoom. */
const SAME_FOCAL = 0.03;

/** One record a camera: everything that the photo's lens hangs on. */
export const lensId = ({ make, model, lens, focal, focal35, zoom, longer, shorter }: CameraTraits): string =>
  JSON.stringify([make, model, lens, focal, focal35, zoom, longer, shorter]);

/** Whether a photo says enough of its camera that a lens can be kept for it. */
export const isNamed = ({ model, focal, focal35 }: CameraTraits): boolean =>
  model !== '' && (focal !== null || focal35 !== null);

/**
 * The kept lens that a photo may have been taken with. `sure` where everything that the photo says of its camera is as it was: it can be
 * used unasked then. Else it only may be the same camera (sent through a service that strips what photos say, or refocused), and a person
 * must say so. Null where nothing fits: another size, model, zoom or focal length is another lens.
 */
export function lensOf(
  camera: CameraTraits,
  kept: readonly KeptLens[],
): { readonly lens: KeptLens; readonly sure: boolean } | null {
  const same = kept.find((lens) => isNamed(camera) && lensId(lens.camera) === lensId(camera));
  if (same) return { lens: same, sure: true };
  const alike = kept.filter((lens) => mayBe(lens.camera, camera));
  // The one whose focal length is nearest; the one taught last among equals.
  const away = (lens: KeptLens) => Math.abs((lens.camera.focal ?? 0) - (camera.focal ?? lens.camera.focal ?? 0));
  const [lens] = alike.sort((a, b) => away(a) - away(b) || b.day.localeCompare(a.day));
  return lens ? { lens, sure: false } : null;
}

function mayBe(a: CameraTraits, b: CameraTraits): boolean {
  const text = (p: string, q: string) => p === '' || q === '' || p === q;
  const number = (p: number | null, q: number | null) =>
    p === null || q === null || Math.abs(p - q) <= SAME_FOCAL * Math.max(p, q);
  return (
    a.longer === b.longer &&
    a.shorter === b.shorter &&
    a.zoom === b.zoom &&
    text(a.make, b.make) &&
    text(a.model, b.model) &&
    text(a.lens, b.lens) &&
    number(a.focal, b.focal) &&
    number(a.focal35, b.focal35)
  );
}

/** A camera in plain words: "Phone, 26 mm, 4000 × 3000". */
export function cameraName({ model, lens, focal, focal35, longer, shorter }: CameraTraits): string {
  const length = focal35 ?? focal;
  const parts = [model || lens || 'Camera', length && `${Math.round(length)} mm`, `${longer} × ${shorter}`];
  return parts.filter(Boolean).join(', ');
}
