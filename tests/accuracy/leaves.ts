import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readPhoto } from '../../src/cli/photo-file';
import type { Polygon } from '../../src/geometry';
import { lookAhead } from '../../src/leaves';
import { acrossAt, type FaceFigure, faceFigures, measureDrift } from '../../src/leaves/drift';
import type { PicturedFace } from '../../src/leaves/drift-types';
import { facingSides } from '../../src/leaves/facing';
import { resample } from '../../src/raster';
import { unwatched } from '../../src/search';
import { like } from '../leaves/figure-likeness';
import { areaUnder } from './seam-pairs';
import { quantile, type Row } from './table';

/**
 * Rendered leaves of one board in sawing order, both faces of each: whether the right neighbour is told from a wrong leaf, how well the drift of figure over a
 * kerf is measured, and a look ahead from the board's own two faces against the leaves as they were then sawn.
 */

interface LeafTruth {
  readonly x0: number;
  readonly y0: number;
  readonly res_mm: number;
  readonly z_in_log_mm: number;
  readonly outline: Polygon<'face'>;
  readonly pith: { readonly xy_dz: readonly (readonly [x: number, y: number, deep: number])[] };
}

/** One face of a leaf, at its depth below the board's outer face. Both faces are stored as seen from above. */
interface SawnFace {
  readonly depth: number;
  readonly face: PicturedFace;
  readonly pith: LeafTruth['pith']['xy_dz'];
}

/** Joints asked about are so long, mm. */
const LONG = 300;
/** Nearer to the line over the pith than this, mm, rings lie almost level. */
const OVER_PITH = 30;

/** The faces of every sequence below a folder, from the outer one inward. */
async function sequences(folder: string): Promise<[name: string, faces: SawnFace[]][]> {
  if (!existsSync(folder)) return [];
  const found: [string, SawnFace[]][] = [];
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (!entry.isDirectory() || !existsSync(join(path, 'leaf0_top.json'))) continue;
    const faces: SawnFace[] = [];
    for (let i = 0; existsSync(join(path, `leaf${i}_top.json`)); i++) {
      for (const side of ['top', 'bottom']) {
        const name = join(path, `leaf${i}_${side}`);
        const { x0, y0, res_mm, z_in_log_mm, outline, pith } = JSON.parse(
          readFileSync(`${name}.json`, 'utf8'),
        ) as LeafTruth;
        const { raster } = await readPhoto(`${name}.jpg`, name);
        const picture = resample({ raster, mmPerPx: res_mm, x0, y0 }, 1);
        faces.push({ depth: z_in_log_mm, face: { picture, outline, defects: [] }, pith: pith.xy_dz });
      }
    }
    const first = faces[0]?.depth ?? 0;
    found.push([entry.name, faces.map((one) => ({ ...one, depth: Math.abs(one.depth - first) }))]);
  }
  return found;
}

/** All rows of the section. @param folder holds rendered sequences of leaves with their truth, one a subfolder */
export async function leaves(folder: string): Promise<Row[]> {
  const rows: Row[] = [];
  for (const [name, faces] of await sequences(folder)) {
    const figures = faceFigures(faces.map(({ face }) => face));
    rows.push(...neighbours(name, faces, figures), await ahead(name, faces));
  }
  return rows;
}

/** Over every cut: is the facing side likelier than sides of other leaves, on joints all over the face; and does the drift measured lead to the same ring? */
function neighbours(name: string, faces: readonly SawnFace[], figures: readonly FaceFigure[]): Row[] {
  const [rights, wrongs]: [number[], number[]] = [[], []];
  const [off, moved]: [number[], number[]] = [[], []];
  for (let under = 1; under + 1 < faces.length; under += 2) {
    const [own, next] = [faces[under] as SawnFace, faces[under + 1] as SawnFace];
    const kerf = next.depth - own.depth;
    const a = figures[under] as FaceFigure;
    const meter = (k: number) => {
      const drift = measureDrift(a, figures[k] as FaceFigure, kerf);
      return { drift, likeness: facingSides(a, figures[k] as FaceFigure, drift) };
    };
    const right = meter(under + 1);
    const wrong = [under + 3, under + 5, under - 3].filter((k) => k > 0 && k < faces.length && k !== under).map(meter);
    for (let from = a.x0 + 30; from + LONG < a.x0 + a.stations * a.station; from += LONG) {
      for (let y = a.y0 + 30; y < a.y0 + a.rows - 30; y += 40) {
        for (const keepsMore of [true, false]) {
          const edge = { from, to: from + LONG, y, keepsMore };
          // A cost, as joints of tops have: the less alike, the more.
          rights.push(-right.likeness(edge).likeness);
          wrongs.push(...wrong.map((other) => -other.likeness(edge).likeness));
        }
      }
    }
    for (const [x, pith, deep] of own.pith) {
      for (let y = a.y0 + 15; y < a.y0 + a.rows - 15; y += 10) {
        const square = (y - pith) ** 2 + deep ** 2 - (deep - kerf) ** 2;
        if (Math.abs(y - pith) < OVER_PITH || square < 0) continue;
        const true_ = Math.sign(y - pith) * Math.sqrt(square) - (y - pith);
        off.push(Math.abs(acrossAt(right.drift, x, y) - true_));
        moved.push(Math.abs(true_));
      }
    }
  }
  const told = areaUnder({ right: rights, wrong: [wrongs] });
  const median = quantile(off, 0.5);
  return [
    {
      what: `${name}: right neighbour told from a wrong leaf (area under the curve), joints of ${LONG} mm, drift allowed`,
      n: rights.length,
      figure: told.toFixed(3).replace(/^0/, ''),
      reach: '.95',
      met: told >= 0.95,
    },
    {
      what: `${name}: drift over a kerf against round rings about the true pith, median / 90 %, mm`,
      n: off.length,
      figure: `${median.toFixed(2)} / ${quantile(off, 0.9).toFixed(2)} (it moves by ${quantile(moved, 0.5).toFixed(2)})`,
      reach: '1',
      met: median <= 1,
    },
  ];
}

/** A look ahead from the outer leaves' outer faces, its end grain read to whole degrees, against every face between. */
async function ahead(name: string, faces: readonly SawnFace[]): Promise<Row> {
  const [top, bottom] = [faces[0] as SawnFace, faces.at(-1) as SawnFace];
  const thickness = bottom.depth;
  const [, across, deep] = top.pith[0] as LeafTruth['pith']['xy_dz'][number];
  const ys = top.face.outline.map(([, y]) => y);
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const endGrain = [0.1, 0.5, 0.9].map((share) => {
    const y = low + share * (high - low);
    return Math.abs(Math.round((Math.atan2(y - across, deep) * 180) / Math.PI));
  });
  const between = faces.slice(1, -1);
  const depths = between.map(({ depth }) => depth);
  const seen = await lookAhead(
    { top: top.face, bottom: bottom.face, lie: 'same', thickness, endGrain },
    depths,
    unwatched(),
  );
  const foreseen = (seen?.faces ?? []).map(({ picture }) => ({ ...top.face, picture }));
  const figures = faceFigures([...foreseen, ...between.map(({ face }) => face), top.face, bottom.face]);
  const n = between.length;
  const said = between.map(({ depth }, i) => {
    const truth = figures[n + i] as FaceFigure;
    const nearer = figures[2 * n + (depth <= thickness / 2 ? 0 : 1)] as FaceFigure;
    return `${depth}: ${likeness(figures[i] as FaceFigure, truth)} (${likeness(nearer, truth)})`;
  });
  return {
    what: `${name}: look ahead, likeness to the truth at each depth, mm (a copy of the nearer face)`,
    n,
    figure: `${said.join(', ')}; trusted to ${seen?.reach} mm from a face`,
  };
}

/** Correlation of two figures, as a table gives it. */
const likeness = (a: FaceFigure, b: FaceFigure): string => like(a, b).toFixed(2).replace('0.', '.');
