import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readPhoto } from '../../src/cli/photo-file';
import type { Polygon } from '../../src/geometry';
import type { WoodFace } from '../../src/grain';
import { blur, type FacePicture, linearLight, type Plane, rasterOf, srgbByte } from '../../src/raster';
import { helixFace, rectangleOf } from '../support/helix-log';

/** Faces whose wood is known, as a pair of slabs has them: two that were sawn apart. */
export interface Flitch {
  readonly name: string;
  readonly faces: readonly WoodFace[];
  /** Whether only the saw's kerf lies between both faces. */
  readonly acrossKerf: boolean;
}

interface FaceTruth {
  readonly image: string;
  readonly flitch?: string;
  readonly x0: number;
  readonly y0: number;
  readonly res_mm: number;
  readonly wood_without_bark: readonly { readonly outer: Polygon<'face'> }[];
  readonly defects: readonly { readonly outer: Polygon<'face'> }[];
  readonly cracks: readonly { readonly centre_line_xyw: readonly (readonly [number, number, number])[] }[];
}

/** The two faces on either side of the saw's first cut, where a folder has them: bottom of the first slab or leaf, top of the next. */
const NAMED: readonly (readonly [RegExp, RegExp])[] = [
  [/^s0_bottom\.json$/, /^s1_top\.json$/],
  [/^leaf0_bottom\.json$/, /^leaf5_top\.json$/],
];

async function faceIn(folder: string, file: string): Promise<WoodFace> {
  const truth = JSON.parse(readFileSync(join(folder, file), 'utf8')) as FaceTruth;
  const { raster } = await readPhoto(join(folder, truth.image), file);
  const outer = truth.wood_without_bark.map((wood) => wood.outer).reduce((a, b) => (b.length > a.length ? b : a));
  return {
    picture: { raster, mmPerPx: truth.res_mm, x0: truth.x0, y0: truth.y0 },
    outline: { outer, holes: [] },
    defects: [
      ...truth.defects.map((defect) => ({ polygon: defect.outer })),
      ...truth.cracks.map((crack) => ({ line: crack.centre_line_xyw })),
    ],
  };
}

/** Flitches with face rasters below a folder, and a log of our own whose pith runs in a helix. */
export async function flitches(folder: string): Promise<Flitch[]> {
  const found: Flitch[] = [];
  const folders = existsSync(folder) ? readdirSync(folder, { withFileTypes: true }) : [];
  for (const entry of folders.filter((one) => one.isDirectory())) {
    const within = join(folder, entry.name);
    const files = readdirSync(within);
    for (const names of NAMED) {
      const pair = names.map((name) => files.find((file) => name.test(file)));
      if (pair.some((file) => file === undefined)) continue;
      const faces = await Promise.all(pair.map((file) => faceIn(within, file as string)));
      found.push({ name: entry.name, faces, acrossKerf: true });
    }
  }
  const size = { width: 2400, height: 400, y0: 40 };
  const log = [-70, -15].map((z) => ({
    picture: helixFace(z, size),
    outline: { outer: rectangleOf(size.width, size.height), holes: [] },
    defects: [],
  }));
  return [...found.sort((a, b) => a.name.localeCompare(b.name)), { name: 'helix', faces: log, acrossKerf: false }];
}

/** The same face in another light: 0.7 times as bright, warmer, and 10 % brighter from one end to the other. */
export function inOtherLight(face: WoodFace): WoodFace {
  const cast = [0.7 * 1.08, 0.7, 0.7 * 0.86];
  return changed(face, ({ raster, ...place }) => {
    const data = new Uint8ClampedArray(raster.data.length);
    for (let i = 0; i < data.length; i++) {
      const along = (Math.floor(i / raster.channels) % raster.width) / raster.width;
      const gain = (cast[i % raster.channels] as number) * (0.95 + 0.1 * along);
      data[i] = srgbByte(gain * linearLight(raster.data[i] as number));
    }
    return { raster: { ...raster, data }, ...place };
  });
}

/** The same face less sharp: a Gaussian of `sigma` mm over it. */
export function blurred(face: WoodFace, sigma: number): WoodFace {
  return changed(face, ({ raster, ...place }) => {
    const { width, height, channels } = raster;
    const data = new Uint8ClampedArray(raster.data.length);
    for (let k = 0; k < channels; k++) {
      const plane: Plane = { width, height, data: new Float32Array(width * height) };
      for (let i = 0; i < plane.data.length; i++) plane.data[i] = raster.data[i * channels + k] as number;
      const soft = blur(plane, sigma / place.mmPerPx).data;
      for (let i = 0; i < soft.length; i++) data[i * channels + k] = soft[i] as number;
    }
    return { raster: rasterOf(width, height, channels, data), ...place };
  });
}

const changed = (face: WoodFace, change: (picture: FacePicture) => FacePicture): WoodFace => ({
  ...face,
  picture: change(face.picture),
});
