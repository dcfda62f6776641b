import { acceptedSkips } from '../../src/flattening/accept';
import { flattenBlank } from '../../src/flattening/blank';
import { boardOver } from '../../src/flattening/thickness';
import { rectangle } from '../../src/geometry';
import { seededRandom } from '../../src/search';
import { Memo, type Reading, smoothFaces } from '../../src/surface';

/**
 * What a changed reading costs against reckoning the slab anew: surface, thickest board, passes and budget of one blank; and how much of that the
 * curve of skips is, which a screen may show later. Run: npx tsx tests/bench/surface.ts. Ratios, not times.
 */
const { normal } = seededRandom(3);
const blank = { id: 'a', polygon: rectangle<'face'>(200, 60, 2400, 440), finished: 34 };
const region = { outer: blank.polygon, holes: [] };
const shop = {
  sled: { bit: 50, depth: 3, stepover: 0.5, feed: 75, lowest: 0 },
  sanding: 1,
  reserve: { second: 3, level: 1 },
};

function readings(count: number, level: number): Reading[] {
  const columns = Math.round(Math.sqrt(4 * count));
  const rows = Math.round(count / columns);
  return Array.from({ length: columns * rows }, (_, i) => {
    const at = [(2600 * ((i % columns) + 0.5)) / columns, (520 * (Math.floor(i / columns) + 0.5)) / rows] as const;
    const [u, v] = [at[0] / 1300 - 1, at[1] / 260 - 1];
    return { at, z: level + 7 * u * u + 3 * v * v + Math.sin(at[0] / 200) + 0.1 * normal(), sigma: 0.2 };
  });
}

/** Median time of a call, ms. */
function median(calls: number, call: () => unknown): number {
  const times = Array.from({ length: calls }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[Math.floor(calls / 2)] as number;
}

console.log('readings    anew ms    changed ms    times faster    of that the curve ms');
for (const count of [15, 100, 500]) {
  const [top, bottom] = [readings(count, 54), readings(count, 0)];
  const memo = new Memo(20_000_000);
  const reckon = (kept?: Memo) => flattenBlank(smoothFaces(top, bottom, kept), blank, shop);
  reckon(memo);
  const anew = median(3, () => reckon());
  const changed = median(9, () => {
    top[3] = { ...(top[3] as Reading), z: (top[3] as Reading).z + 0.1 };
    reckon(memo);
  });
  const faces = smoothFaces(top, bottom, memo);
  const board = boardOver(faces, region);
  const curve = median(9, () => acceptedSkips(faces, region, board));
  const row = [
    top.length + bottom.length,
    anew.toFixed(0),
    changed.toFixed(0),
    (anew / changed).toFixed(1),
    curve.toFixed(0),
  ];
  console.log(row.map((cell) => String(cell).padStart(10)).join('  '));
}
