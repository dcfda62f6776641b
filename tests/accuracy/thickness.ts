import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type BlankSurfaces, thicknessOfBlank } from '../../src/flattening';
import { bounds, intersection, offset, type Polygon, rectangle, regionsArea, ringArea } from '../../src/geometry';
import { emptySlab, READING_SIGMA, type Slab } from '../../src/job';
import { surfacesOf } from '../../src/layout';
import { linearSurface, slabSurfaces } from '../../src/surface';
import { mean, percent, quantile, type Row, share } from './table';

/**
 * Finished thickness from readings as a person takes them, against the true surfaces of rendered slabs: gap tables of both faces, each over rails
 * of their own, tied by ten callipers. Whole slabs, and blanks of 2,250 and 1,100 mm at several places.
 */

type Table = readonly (readonly (number | null)[])[];
interface WarpTruth {
  readonly readings: {
    readonly x: readonly number[];
    readonly y: readonly number[];
    readonly top: { readonly gap_mm: Table };
    readonly bottom: { readonly gap_mm: Table };
    readonly thickness_xyt: readonly (readonly [number, number, number])[];
  };
  readonly exact_grid: {
    readonly x: readonly number[];
    readonly y: readonly number[];
    readonly top: Table;
    readonly bottom: Table;
  };
}

/** The wood this far inside its edge counts, mm: nobody flattens the wane. */
const INSIDE = 20;

/** Readings as typed: drops below each face's own rails, callipers where they were taken. */
function slabAsRead({ readings }: WarpTruth): Slab {
  const slab: Slab = { ...emptySlab('s', 1), heights: 'apart' };
  const put = (id: string, at: readonly [number, number], read: Partial<Slab['spots'][string]>) => {
    slab.spots[id] = { id, at, top: null, bottom: null, thickness: null, sigma: READING_SIGMA, ...read };
  };
  readings.y.forEach((y, r) => {
    readings.x.forEach((x, c) => {
      const [top, bottom] = [readings.top.gap_mm[r]?.[c] ?? null, readings.bottom.gap_mm[r]?.[c] ?? null];
      if (top === null && bottom === null) return;
      put(`g${r}-${c}`, [x, y], { top: top === null ? null : -top, bottom: bottom === null ? null : -bottom });
    });
  });
  readings.thickness_xyt.forEach(([x, y, thickness], i) => {
    put(`t${i}`, [x, y], { thickness });
  });
  return slab;
}

/** The true faces, flat between nodes 50 mm apart. */
function trueFaces({ exact_grid: { x, y, top, bottom } }: WarpTruth): BlankSurfaces {
  const surface = (table: Table) =>
    linearSurface(
      y.flatMap((v, r) =>
        x.flatMap((u, c) => {
          const z = table[r]?.[c] ?? null;
          return z === null ? [] : [{ at: [u, v] as const, z, sigma: 0 }];
        }),
      ),
    );
  return { top: surface(top), bottom: surface(bottom) };
}

/** The whole slab, and blanks of a length at places along it, two widths each, that lie on its wood. */
function pieces(outline: Polygon<'face'>): readonly { readonly kind: string; readonly polygon: Polygon<'face'> }[] {
  const [wood] = offset([{ outer: outline, holes: [] }], -INSIDE);
  if (!wood) return [];
  const { minX, maxX, minY, maxY } = bounds(wood.outer);
  const lies = (polygon: Polygon<'face'>): boolean =>
    regionsArea(intersection([{ outer: polygon, holes: [] }], [wood])) > 0.999 * ringArea(polygon);
  const blanks = [2250, 1100].flatMap((length) =>
    [250, 380].flatMap((width) =>
      [0, 0.25, 0.5, 0.75, 1].flatMap((along) =>
        [0.15, 0.5, 0.85].map((across) => {
          const x = minX + along * (maxX - minX - length);
          const y = minY + across * (maxY - minY - width);
          return { kind: `blanks of ${length} mm`, polygon: rectangle<'face'>(x, y, x + length, y + width) };
        }),
      ),
    ),
  );
  return [{ kind: 'whole slabs', polygon: wood.outer }, ...blanks.filter(({ polygon }) => lies(polygon))];
}

interface Judged {
  readonly kind: string;
  readonly over: number;
  readonly linear: number;
  readonly twoSigma: number;
}

function judge(folder: string, name: string): Judged[] {
  const read = <T>(file: string): T => JSON.parse(readFileSync(join(folder, file), 'utf8')) as T;
  const truth = read<WarpTruth>(`${name}_warp.json`);
  const face = read<{ wood_without_bark: { outer: Polygon<'face'> }[] }>(`${name}_top.json`);
  const outline = face.wood_without_bark.reduce((a, b) => (ringArea(b.outer) > ringArea(a.outer) ? b : a)).outer;
  const slab = slabAsRead(truth);
  const [model, linear, exact] = [surfacesOf(slab), slabSurfaces(slab), trueFaces(truth)];
  if (!model || !linear) return [];
  return pieces(outline).map(({ kind, polygon }) => {
    const real = thicknessOfBlank(exact, polygon).thickest;
    const { thickest, sigma } = thicknessOfBlank(model, polygon);
    return {
      kind,
      over: thickest - real,
      linear: thicknessOfBlank(linear, polygon).thickest - real,
      twoSigma: 2 * sigma,
    };
  });
}

/** Rows of the table; none where the folder holds no slabs with their warp. */
export function thickness(folder: string): Row[] {
  const slabs = ['demo', 'rack'].flatMap((flitch) => {
    const own = join(folder, flitch);
    const files = existsSync(own) ? readdirSync(own).filter((file) => file.endsWith('_warp.json')) : [];
    return files.map((file) => ({ folder: own, name: file.replace('_warp.json', '') }));
  });
  const judged = slabs.flatMap(({ folder: own, name }) => judge(own, name));
  const kinds = [...new Set(judged.map(({ kind }) => kind))];
  return [...kinds, 'all'].flatMap((kind): Row[] => {
    const some = judged.filter((one) => kind === 'all' || one.kind === kind);
    if (some.length === 0) return [];
    const near = share(some.map(({ over }) => Math.abs(over) <= 1));
    const safe = share(some.map(({ over, twoSigma }) => over <= twoSigma));
    const off = (of: readonly number[]): string =>
      `${mean(of).toFixed(2)} on the mean, ${quantile(of, 0.05).toFixed(1)} to ${quantile(of, 0.95).toFixed(1)}, most over ${Math.max(...of).toFixed(1)}`;
    return [
      { what: `${kind}: within 1 mm`, n: some.length, figure: percent(near), reach: '90 %', met: near >= 0.9 },
      {
        what: `${kind}: not over by more than the ±`,
        n: some.length,
        figure: percent(safe),
        reach: '95 %',
        met: safe >= 0.95,
      },
      { what: `${kind}: over the truth, mm`, n: some.length, figure: off(some.map(({ over }) => over)) },
      { what: `${kind}: ±, mm`, n: some.length, figure: mean(some.map(({ twoSigma }) => twoSigma)).toFixed(1) },
      {
        what: `${kind}: the same, linear between readings`,
        n: some.length,
        figure: off(some.map(({ linear }) => linear)),
      },
    ];
  });
}
