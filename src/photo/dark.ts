import { offset, type Region } from '../geometry';
import { blur, type FacePicture, type Grid, labPlanes, maskOf } from '../raster';
import type { Cv } from './cv';
import { gridOf, shrink } from './pictures';

/** How dark each spot of a face is against the wood around it: what cracks, knots and voids have in common. */
export interface Darkness extends Grid {
  /** CIELAB lightness below the wood's own around it; 0 outside the wood. */
  readonly below: Float32Array;
  /** CIELAB lightness, lightly smoothed. */
  readonly lightness: Float32Array;
  /** 1 where sound wood or a defect shows: inside the outline, under no card. */
  readonly wood: Uint8Array;
  /** How much sound wood varies: the median of what lies below. */
  readonly figure: number;
}

/** mm per pixel at which defects are sought: finer than any that matters. */
const WORK = 1;
/** Not looked at along the edge, where bark and shadow begin, mm. */
const EDGE = 5;
/** Over what the wood beside a spot is averaged, px (sigma). */
const OVER = 8;
/** Lightness below the wood beside it from which a spot is no part of what its neighbours are held against. */
const NO_WOOD = 8;

/**
 * Measures darkness over a face.
 * @param hides 1 for each pixel of the picture that shows no wood or floor
 * @param off how far off across the slab the wood lies that a spot is held against, mm: beyond the half width of what is sought
 */
export function darknessOf(
  cv: Cv,
  picture: FacePicture,
  outline: Region<'face'>,
  hides: Uint8Array,
  off: number,
): Darkness {
  const small = shrink(cv, picture, WORK);
  const grid = gridOf(small);
  const { width, height } = grid;
  const inside = maskOf(grid, offset([outline], -EDGE));
  const ratio = small.mmPerPx / picture.mmPerPx;
  const wood = inside.map((yes, i) => {
    if (!yes) return 0;
    const c = Math.min(picture.raster.width - 1, Math.floor(((i % width) + 0.5) * ratio));
    const r = Math.min(picture.raster.height - 1, Math.floor((Math.floor(i / width) + 0.5) * ratio));
    return hides[r * picture.raster.width + c] ? 0 : 1;
  });
  const { L } = labPlanes(small.raster);
  const lightness = blur(L, 0.8).data;
  // Twice: the second time without what the first found dark, so that a wide void does not darken its own surroundings.
  const first = beside(lightness, Float32Array.from(wood), width, height, off);
  const sound = Float32Array.from(wood, (w, i) =>
    w && (first[i] as number) - (lightness[i] as number) < NO_WOOD ? 1 : 0,
  );
  const around = beside(lightness, sound, width, height, off);
  const below = lightness.map((l, i) => (wood[i] ? Math.max(0, (around[i] as number) - l) : 0));
  const sorted = below.filter((v, i) => wood[i] && v > 0).sort();
  return { ...grid, below, lightness, wood, figure: sorted[Math.floor(sorted.length / 2)] ?? 0 };
}

/**
 * Lightness of the wood beside each spot, of the darker side: where heart meets sapwood, the heart is dark only against the sapwood, and that is no
 * defect.
 */
function beside(values: Float32Array, weight: Float32Array, width: number, height: number, off: number): Float32Array {
  const sum = blur({ width, height, data: values.map((v, i) => v * (weight[i] as number)) }, OVER).data;
  const total = blur({ width, height, data: weight }, OVER).data;
  const known = (i: number): number =>
    (total[i] ?? 0) > 0.02 ? (sum[i] as number) / (total[i] as number) : Number.POSITIVE_INFINITY;
  return values.map((v, i) => {
    const row = Math.floor(i / width);
    const up = row >= off ? known(i - off * width) : Number.POSITIVE_INFINITY;
    const down = row + off < height ? known(i + off * width) : Number.POSITIVE_INFINITY;
    const darker = Math.min(up, down);
    return Number.isFinite(darker) ? darker : Number.isFinite(known(i)) ? known(i) : v;
  });
}

/** Connected patches of a mask, as lists of pixels. */
export function patchesOf(mask: Uint8Array, width: number): number[][] {
  const seen = new Uint8Array(mask.length);
  const patches: number[][] = [];
  for (let start = 0; start < mask.length; start++) {
    if (!mask[start] || seen[start]) continue;
    const patch = [start];
    seen[start] = 1;
    for (let k = 0; k < patch.length; k++) {
      const at = patch[k] as number;
      const column = at % width;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const next = at + dy * width + dx;
          if (column + dx < 0 || column + dx >= width || !mask[next] || seen[next]) continue;
          seen[next] = 1;
          patch.push(next);
        }
      }
    }
    patches.push(patch);
  }
  return patches;
}
