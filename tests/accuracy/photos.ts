import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { readPhoto } from '../../src/cli/photo-file';
import type { Point, Polygon } from '../../src/geometry';
import type { Raster } from '../../src/raster';

/** Rendered photos with exact truth: where they lie, and what is known of each. Frame: x along the slab, y across, z into the wood, mm. */

interface TruthReference {
  readonly type: 'aruco' | 'sheet' | 'stick';
  readonly id?: number;
  readonly side_mm?: number;
  readonly card_mm?: number;
  readonly size_mm?: readonly [number, number];
  readonly length_mm?: number;
  readonly width_mm?: number;
  readonly thickness_mm?: number;
  readonly painted_end_mm?: number;
  readonly z_mm: number;
  readonly corners_mm: Polygon<'face'>;
  readonly corners_px: Point<'photo'>[];
  readonly ends_mm?: readonly [Point<'face'>, Point<'face'>];
  readonly ends_px?: readonly [Point<'photo'>, Point<'photo'>];
}

interface PhotoTruth {
  readonly camera: {
    readonly K: readonly (readonly number[])[];
    readonly dist: readonly number[];
    readonly R: readonly (readonly number[])[];
    readonly t: readonly number[];
  };
  readonly warp_scale: number;
  readonly references: readonly TruthReference[];
  readonly clutter_px?: readonly Point<'photo'>[][];
  readonly floor_plane_z_mm?: number;
  readonly mapping_grid: { readonly x: readonly number[]; readonly y: readonly number[] };
  readonly check_distances: readonly {
    readonly a_px: Point<'photo'>;
    readonly b_px: Point<'photo'>;
    readonly plan_mm: number;
  }[];
  readonly warp_model: {
    readonly L: number;
    readonly yc: number;
    readonly W: number;
    readonly bow: number;
    readonly cup: number;
    readonly twist: number;
    readonly waves: readonly (readonly [number, number, number, number])[];
    readonly plane: readonly [number, number, number];
  };
}

interface FaceTruth {
  readonly wood_without_bark: readonly { readonly outer: Polygon<'face'>; readonly area_mm2?: number }[];
  readonly defects: readonly { readonly cls: string; readonly outer: Polygon<'face'> }[];
  readonly cracks: readonly { readonly centre_line_xyw: readonly (readonly [number, number, number])[] }[];
  readonly sapwood_boundary: { readonly y_low: Polygon<'face'>; readonly y_high: Polygon<'face'> } | null;
}

interface GrainTruth {
  readonly x0: number;
  readonly y0: number;
  readonly step: number;
  readonly nx: number;
  readonly ny: number;
  readonly ring_angle_ddeg: readonly (readonly number[])[];
  readonly ring_spacing_cmm: readonly (readonly number[])[];
}

/** Gaps below a straightedge on two rails, as a person reads them; null where there is no wood. */
interface Gaps {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly top: { readonly gap_mm: readonly (readonly (number | null)[])[] };
}

export interface Subject {
  readonly name: string;
  readonly file: string;
  readonly truth: PhotoTruth;
  readonly face: FaceTruth;
  readonly grain: GrainTruth | null;
  readonly gaps: Gaps | null;
  readonly focal35: number | undefined;
  photo(): Promise<Raster>;
}

const json = (path: string): never => JSON.parse(readFileSync(path, 'utf8')) as never;

/** Every photo with truth below a folder. */
async function photosIn(folder: string): Promise<Subject[]> {
  const found: Subject[] = [];
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) found.push(...(await photosIn(path)));
    if (!entry.name.endsWith('.truth.json')) continue;
    const truth = json(path) as PhotoTruth & { face: string; grain: string; warp_file: string };
    const warp = join(folder, truth.warp_file);
    const grain = join(folder, truth.grain);
    found.push(
      await subject(
        path.replace('.truth.json', '.jpg'),
        truth,
        json(join(folder, truth.face)),
        existsSync(grain) ? (JSON.parse(gunzipSync(readFileSync(grain)).toString()) as GrainTruth) : null,
        existsSync(warp) ? (json(warp) as { readings: Gaps }).readings : null,
      ),
    );
  }
  return found;
}

async function demoPhotos(): Promise<Subject[]> {
  return Promise.all(
    ['slab-2', 'slab-3'].map((name) => {
      const truth = json(`tests/fixtures/truth/${name}.json`) as PhotoTruth & FaceTruth & { readings: Gaps };
      return subject(`demo-images/${name}.jpg`, truth, truth, null, truth.readings);
    }),
  );
}

async function subject(
  file: string,
  truth: PhotoTruth,
  face: FaceTruth,
  grain: GrainTruth | null,
  gaps: Gaps | null,
): Promise<Subject> {
  const name = `${basename(dirname(file))}/${basename(file, '.jpg')}`;
  const { focal35 } = await readPhoto(file, name);
  return { name, file, truth, face, grain, gaps, focal35, photo: async () => (await readPhoto(file, name)).raster };
}

/** The photos below `folder` where it exists, and the demo's. */
export async function subjects(folder: string): Promise<Subject[]> {
  const shared = existsSync(folder) ? await photosIn(folder) : [];
  return [...shared.sort((a, b) => a.name.localeCompare(b.name)), ...(await demoPhotos())];
}

/** The wood itself: its largest piece. */
export const woodOf = ({ face }: Subject): Polygon<'face'> =>
  face.wood_without_bark.map(({ outer }) => outer).reduce((a, b) => (b.length > a.length ? b : a));

/** Where the camera of the truth sees a point over (above: z < 0) or in the face's mean plane. */
export function projected({ truth }: Subject, [x, y]: Point<'face'>, z: number): Point<'photo'> {
  const { K, dist, R, t } = truth.camera;
  const at = (i: number) => {
    const [a, b, c] = R[i] as readonly [number, number, number];
    return a * x + b * y + c * z + (t[i] as number);
  };
  const [u, v] = [at(0) / at(2), at(1) / at(2)];
  const r2 = u * u + v * v;
  const s = 1 + (dist[0] as number) * r2 + (dist[1] as number) * r2 * r2;
  const [fx, , cx] = K[0] as readonly [number, number, number];
  const [, fy, cy] = K[1] as readonly [number, number, number];
  return [fx * u * s + cx, fy * v * s + cy];
}

/** How far the wood stands out over the mean plane of its face, mm. */
export function heightOf({ truth: { warp_scale, warp_model: w } }: Subject, [x, y]: Point<'face'>): number {
  if (!warp_scale || !w.L) return 0;
  const [u, v] = [(2 * (x - w.L / 2)) / w.L, (2 * (y - w.yc)) / w.W];
  const waves = w.waves.reduce((sum, [a, kx, ky, f]) => sum + a * Math.cos(kx * x + ky * y + f), 0);
  const plane = w.plane[0] + w.plane[1] * x + w.plane[2] * y;
  return warp_scale * (w.bow * u * u + w.cup * v * v + w.twist * u * v + waves - plane);
}

/** What of the wood is covered by cards, sheet, rods or clutter, px. */
export function coveredPx({ truth }: Subject): Polygon<'photo'>[] {
  const laid = truth.references.map(({ corners_px, side_mm, card_mm }) => {
    const grow = (card_mm ?? 1) / (side_mm ?? 1);
    const [u, v] = [0, 1].map((k) => corners_px.reduce((sum, p) => sum + (p[k] as number), 0) / corners_px.length) as [
      number,
      number,
    ];
    return corners_px.map((p): Point<'photo'> => [u + grow * (p[0] - u), v + grow * (p[1] - v)]);
  });
  return [...laid, ...(truth.clutter_px ?? [])];
}
