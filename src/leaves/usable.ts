import { bounds, offset, type Polygon, type Region, ribbon } from '../geometry';
import type { FacePicture } from '../raster';
import { type Grid, maskOf } from '../raster';
import type { LeafPhoto } from './io';

/** A leaf to be laid out: what `leafPhotos` names, its picture decoded. */
export interface Leaf extends Omit<LeafPhoto, 'image' | 'mmPerPx'> {
  readonly picture: FacePicture;
}

/** Where a leaf's wood may be used, asked by rectangles whose sides lie along its grain (x) and across it. */
export interface Usable {
  /** Least x and y of the leaf: leaves of one board are compared from there. */
  readonly origin: readonly [number, number];
  readonly length: number;
  readonly width: number;
  /** Whether the rectangle from (u, v) off the origin, `along` by `across` mm, is all good wood. */
  fits(u: number, v: number, along: number, across: number): boolean;
}

/** Wood within this of the edge or of a defect is not used, mm: it covers the grid's own coarseness. */
const MARGIN = 1;
/** Step of the grid, mm. */
const STEP = 1;

/** Faults that even a back cannot have, and those that do not matter on a face. */
const HOLES: ReadonlySet<string> = new Set(['void', 'rot']);
const HARMLESS: ReadonlySet<string> = new Set(['stain']);

/**
 * The wood of a leaf that may show on a face (no defect but stain, or what is allowed), or lie on a back (no hole).
 * Answers come from a summed-area table over 1 mm, so a rectangle costs four look-ups (Crow 1984).
 */
export function usable(leaf: Pick<Leaf, 'outline' | 'defects'>, side: 'face' | 'back'): Usable {
  const box = bounds(leaf.outline);
  const grid: Grid = {
    width: Math.ceil((box.maxX - box.minX) / STEP),
    height: Math.ceil((box.maxY - box.minY) / STEP),
    mmPerPx: STEP,
    x0: box.minX,
    y0: box.minY,
  };
  const region = (outer: Polygon<'face'>): Region<'face'> => ({ outer, holes: [] });
  const bad = leaf.defects
    .filter(({ kind, permit }) => (side === 'back' ? HOLES.has(kind) : permit !== 'allow' && !HARMLESS.has(kind)))
    .flatMap(({ polygon, line }) => [...(polygon ? [polygon] : []), ...(line ? [ribbon<'face'>(line, 0.1)] : [])]);
  const wood = maskOf(grid, offset([region(leaf.outline)], -MARGIN));
  const out = maskOf(grid, offset(bad.map(region), MARGIN));
  const { width, height } = grid;
  const sums = new Uint32Array((width + 1) * (height + 1));
  for (let r = 0; r < height; r++) {
    let row = 0;
    for (let c = 0; c < width; c++) {
      row += wood[r * width + c] === 1 && out[r * width + c] === 0 ? 0 : 1;
      sums[(r + 1) * (width + 1) + c + 1] = (sums[r * (width + 1) + c + 1] as number) + row;
    }
  }
  const at = (c: number, r: number) => sums[r * (width + 1) + c] as number;
  return {
    origin: [box.minX, box.minY],
    length: box.maxX - box.minX,
    width: box.maxY - box.minY,
    fits(u, v, along, across) {
      const [c0, r0] = [Math.floor(u / STEP), Math.floor(v / STEP)];
      const [c1, r1] = [Math.ceil((u + along) / STEP), Math.ceil((v + across) / STEP)];
      if (c0 < 0 || r0 < 0 || c1 > width || r1 > height) return false;
      return at(c1, r1) - at(c0, r1) - at(c1, r0) + at(c0, r0) === 0;
    },
  };
}

/** Where a rectangle first fits, looking across from the middle of the leaf and then along; null when nowhere. */
export function firstFit(leaf: Usable, along: number, across: number): readonly [number, number] | null {
  const middle = (leaf.width - across) / 2;
  if (middle < 0 || leaf.length < along) return null;
  for (let dv = 0; dv <= middle; dv += STEP) {
    for (const v of dv === 0 ? [middle] : [middle - dv, middle + dv]) {
      for (let u = 0; u + along <= leaf.length; u += STEP) if (leaf.fits(u, v, along, across)) return [u, v];
    }
  }
  return null;
}
