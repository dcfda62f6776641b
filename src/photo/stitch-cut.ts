import { blur, type Grid } from '../raster';

/** Where one picture ends and the next begins: a line across the way that they follow each other. */
export interface Cut {
  /** Along which of the face's axes the pictures follow each other: 0 is x, 1 is y. */
  readonly axis: 0 | 1;
  /** Where along it the line runs at a place across, mm. */
  at(across: number): number;
}

/** Lightness is compared over so much, mm: what the eye sees as one spot. */
const SPOT = 2;
/** How much dearer the rim of the overlap is than its middle, against the usual difference: rims are seen aslant. */
const RIM = 1.5;
/** Cards, and what only one photo shows, are crossed where there is no other way. */
const CARD = 30;
/** A step to the side costs this, against the usual difference. */
const ASIDE = 0.3;

/**
 * The line across the overlap of two pictures along which they differ least (as in image quilting: Efros and Freeman 2001), near the middle
 * of it where nothing speaks against that.
 * @param first, second lightness on the same grid, figure on figure
 * @param both 1 where both photos show the face; @param wood 1 where both show bare wood
 */
export function cutBetween(
  grid: Grid,
  first: Float32Array,
  second: Float32Array,
  both: Uint8Array,
  wood: Uint8Array,
  axis: 0 | 1,
): Cut {
  const { width, height, mmPerPx } = grid;
  const difference = blur(
    { width, height, data: first.map((v, i) => (wood[i] ? Math.abs(v - (second[i] as number)) : 0)) },
    SPOT / mmPerPx,
  ).data;
  const onWood = difference.filter((_, i) => wood[i]).sort();
  const usual = Math.max(onWood[onWood.length >> 1] ?? 0, 1e-4);
  const [columns, rows] = axis === 0 ? [width, height] : [height, width];
  const index = (c: number, r: number) => (axis === 0 ? r * width + c : c * width + r);
  const price = (c: number, r: number): number => {
    const i = index(c, r);
    if (!both[i]) return 10 * CARD;
    const rim = RIM * ((2 * (c + 0.5)) / columns - 1) ** 2;
    if (!wood[i]) return rim + (hasWoodBeside(c, r) ? CARD : 0.5);
    return rim + (difference[i] as number) / usual;
  };
  // A card has wood before and after it; the floor beside the slab has not.
  const extent = Array.from({ length: columns }, (_, c) => {
    let [from, to] = [rows, -1];
    for (let r = 0; r < rows; r++) if (wood[index(c, r)]) [from, to] = [Math.min(from, r), r];
    return [from, to] as const;
  });
  const hasWoodBeside = (c: number, r: number): boolean => {
    const [from, to] = extent[c] as readonly [number, number];
    return r > from && r < to;
  };
  let costs = Float64Array.from({ length: columns }, (_, c) => price(c, 0));
  const before: Int8Array[] = [];
  for (let r = 1; r < rows; r++) {
    const from = new Int8Array(columns);
    costs = Float64Array.from({ length: columns }, (_, c) => {
      let [best, by] = [costs[c] as number, 0];
      for (const d of [-1, 1]) {
        const other = (costs[c + d] ?? Infinity) + ASIDE;
        if (other < best) [best, by] = [other, d];
      }
      from[c] = by;
      return best + price(c, r);
    });
    before.push(from);
  }
  const line = new Float64Array(rows);
  let c = costs.indexOf(costs.reduce((a, b) => Math.min(a, b), Infinity));
  const along = axis === 0 ? grid.x0 : grid.y0;
  for (let r = rows - 1; r >= 0; r--) {
    line[r] = along + (c + 0.5) * mmPerPx;
    if (r > 0) c += before[r - 1]?.[c] ?? 0;
  }
  const start = axis === 0 ? grid.y0 : grid.x0;
  return {
    axis,
    at: (across) => line[Math.max(0, Math.min(rows - 1, Math.floor((across - start) / mmPerPx)))] as number,
  };
}
