import { type Affine, affine, type Polygon, type Region } from '../geometry';
import { blur, evenOut, type Grid, labPlanes, maskOf, nearMask, type Plane, resample } from '../raster';
import type { Masked, WoodFace } from './joint-types';

/** Working resolution of the measure, mm per pixel. */
const WORK = 1;
/** Wood this near its edge is not looked at: bark and background bleed into it. mm */
const EDGE_MARGIN = 2;
/** A defect discolours and bends the wood around it: this much more is masked. mm */
const DEFECT_MARGIN = 5;

/** A face ready to be measured: CIELAB under one light and equally sharp as its fellows, and where its sound wood is (1 or 0). */
export interface EvenFace {
  readonly width: number;
  readonly height: number;
  readonly x0: number;
  readonly y0: number;
  readonly L: Float32Array;
  readonly a: Float32Array;
  readonly b: Float32Array;
  readonly wood: Uint8Array;
}

/** The faces brought to one resolution, one light and one sharpness, defects masked with a margin. */
export function evenFaces(faces: readonly WoodFace[]): EvenFace[] {
  const small = faces.map((face) => ({ ...face, picture: resample(face.picture, WORK) }));
  const lit = evenOut(small.map(({ picture, outline }) => ({ picture, wood: [outline] })));
  const even = lit.map(({ raster, mmPerPx, x0, y0 }, i) => {
    const grid = { width: raster.width, height: raster.height, mmPerPx, x0, y0 };
    const { outline, defects } = small[i] as WoodFace;
    const wood = soundWood(grid, outline, defects.flatMap(areaOf));
    return { ...grid, ...labPlanes(raster), wood };
  });
  const detail = even.map(({ L, wood }) => fineDetail(L, wood, 0));
  const least = Math.min(...detail);
  return even.map(({ width, height, x0, y0, L, a, b, wood }, i) => {
    const sigma = sigmaTo(least, L, wood, detail[i] as number);
    const [l2, a2, b2] = [L, a, b].map((plane) => (sigma > 0 ? blur(plane, sigma) : plane).data) as [
      Float32Array,
      Float32Array,
      Float32Array,
    ];
    return { width, height, x0, y0, L: l2, a: a2, b: b2, wood };
  });
}

/** Where sound wood is: inside the outline and off its edge, and off what is unsound. */
function soundWood(grid: Grid, outline: Region<'face'>, unsound: readonly Region<'face'>[]): Uint8Array {
  const rings = (regions: readonly Region<'face'>[]) => regions.flatMap(({ outer, holes }) => [outer, ...holes]);
  const wood = maskOf(grid, [outline]);
  const off = [
    nearMask(grid, rings([outline]), EDGE_MARGIN),
    maskOf(grid, unsound),
    nearMask(grid, rings(unsound), DEFECT_MARGIN),
  ];
  for (const mask of off) for (let k = 0; k < wood.length; k++) if (mask[k]) wood[k] = 0;
  return wood;
}

/** The area of a defect; a crack without width still has its line. */
function areaOf({ polygon, line }: Masked): Region<'face'>[] {
  const regions: Region<'face'>[] = polygon ? [{ outer: polygon, holes: [] }] : [];
  for (let i = 0; line && i + 1 < line.length; i++) {
    const [[ax, ay, aw], [bx, by, bw]] = [line[i], line[i + 1]] as [
      readonly [number, number, number],
      readonly [number, number, number],
    ];
    const length = Math.hypot(bx - ax, by - ay);
    if (length === 0) continue;
    // In the frame of this stretch: x along it, y across.
    const [c, s] = [(bx - ax) / length, (by - ay) / length];
    const toFace: Affine<'face', 'face'> = affine(c, s, -s, c, ax, ay);
    const [p, q] = [Math.max(aw, 0.2) / 2, Math.max(bw, 0.2) / 2];
    const [ma, mb, mc, md, me, mf] = toFace.m;
    const outer: Polygon<'face'> = (
      [
        [0, -p],
        [length, -q],
        [length, q],
        [0, p],
      ] as const
    ).map(([x, y]) => [ma * x + mc * y + me, mb * x + md * y + mf]);
    regions.push({ outer, holes: [] });
  }
  return regions;
}

/**
 * Sharpness as a ratio that does not depend on contrast: energy of detail under 1 mm over energy of detail of 1-2 mm,
 * after a blur of `sigma` mm. Read on a band of rows in the middle of the picture; that is enough for one number.
 */
function fineDetail({ width, height, data }: Plane, wood: Uint8Array, sigma: number): number {
  const rows = Math.min(height, 240);
  const from = ((height - rows) >> 1) * width;
  let base: Plane = { width, height: rows, data: data.slice(from, from + rows * width) };
  if (sigma > 0) base = blur(base, sigma);
  const once = blur(base, 0.8 / WORK);
  const twice = blur(once, 1.6 / WORK);
  let fine = 1e-9;
  let middle = 1e-9;
  for (let i = 0; i < base.data.length; i++) {
    if (wood[from + i] === 0) continue;
    fine += ((base.data[i] as number) - (once.data[i] as number)) ** 2;
    middle += ((once.data[i] as number) - (twice.data[i] as number)) ** 2;
  }
  return fine / middle;
}

/** The blur, mm, that brings a picture down to a wanted share of fine detail; differences under a twentieth are left. */
function sigmaTo(wanted: number, L: Plane, wood: Uint8Array, has: number): number {
  if (has <= 1.05 * wanted) return 0;
  let low = 0;
  let high = 3;
  for (let step = 0; step < 7; step++) {
    const middle = (low + high) / 2;
    if (fineDetail(L, wood, middle) > wanted) low = middle;
    else high = middle;
  }
  return high;
}
