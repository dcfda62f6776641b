import {
  bounds,
  difference,
  intersection,
  offset,
  type Polygon,
  type Region,
  rectangle,
  regionArea,
  regionContains,
  regionsArea,
} from '../geometry';
import type { Strip } from '../job';
import type { SawCut } from './cuts';

/** What is left of a slab and worth keeping. */
export interface Offcut {
  readonly polygon: Polygon<'face'>;
  /** The largest clear rectangle along the slab. */
  readonly rectangle: Polygon<'face'>;
  readonly area: number;
}

/** Where a slab's area goes. They add up: stock = parts + kerf + offcuts + waste. mm2. */
export interface SlabAreas {
  readonly stock: number;
  readonly parts: number;
  readonly kerf: number;
  readonly offcuts: number;
  readonly waste: number;
}

/** An offcut is kept when it holds a clear piece of this size: a drawer front's rail, a key blank (common practice, no source). */
const LEAST_RECTANGLE = [300, 60] as const;
const CELL = 10;

/**
 * The largest rectangle along x inside a region, to the cell: cells wholly inside are marked, then the largest rectangle
 * of marked cells is found row by row with a stack of rising heights.
 */
export function largestRectangle(regions: readonly Region<'face'>[]): Polygon<'face'> | null {
  // A cell whose centre is inside the region shrunk by half a diagonal lies inside the region whole.
  const core = offset(regions, -CELL * Math.SQRT1_2);
  if (core.length === 0) return null;
  const box = bounds(core.flatMap(({ outer }) => outer));
  const columns = Math.floor((box.maxX - box.minX) / CELL) + 1;
  const rows = Math.floor((box.maxY - box.minY) / CELL) + 1;
  const heights = new Int32Array(columns + 1);
  let best = { area: 0, left: 0, right: 0, top: 0, bottom: 0 };
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const centre = [box.minX + c * CELL, box.minY + r * CELL] as const;
      heights[c] = core.some((region) => regionContains(region, centre)) ? (heights[c] as number) + 1 : 0;
    }
    const rising: number[] = [];
    for (let c = 0; c <= columns; c++) {
      while (rising.length > 0 && (heights[rising.at(-1) as number] as number) >= (heights[c] as number)) {
        const height = heights[rising.pop() as number] as number;
        const left = rising.length > 0 ? (rising.at(-1) as number) + 1 : 0;
        const area = height * (c - left);
        if (area > best.area) best = { area, left, right: c, top: r - height + 1, bottom: r + 1 };
      }
      rising.push(c);
    }
  }
  if (best.area === 0) return null;
  const x = (column: number): number => box.minX + (column - 0.5) * CELL;
  const y = (row: number): number => box.minY + (row - 0.5) * CELL;
  return rectangle(x(best.left), y(best.top), x(best.right), y(best.bottom));
}

/** Offcuts and areas of a slab from which `pieces` are sawn by `cuts`; `forbidden` is what no rectangle may hold. */
export function leftOver(
  outline: Region<'face'>,
  pieces: readonly Pick<Strip, 'finished' | 'rough'>[],
  cuts: readonly SawCut[],
  forbidden: readonly Region<'face'>[],
): { readonly offcuts: Offcut[]; readonly areas: SlabAreas } {
  const finished = pieces.map((piece): Region<'face'> => ({ outer: piece.finished, holes: [] }));
  const rough = pieces.map((piece): Region<'face'> => ({ outer: piece.rough, holes: [] }));
  const dust = cuts.map((cut): Region<'face'> => ({ outer: cut.dust, holes: [] }));
  const stock = regionArea(outline);
  const parts = regionsArea(finished);
  const kerf = regionsArea(difference(intersection([outline], dust), finished));
  const rest = difference([outline], [...rough, ...dust]);
  const offcuts: Offcut[] = [];
  for (const piece of rest) {
    const clear = largestRectangle(difference([piece], forbidden));
    if (!clear) continue;
    const box = bounds(clear);
    const [length, width] = [box.maxX - box.minX, box.maxY - box.minY].sort((a, b) => b - a) as [number, number];
    if (length < LEAST_RECTANGLE[0] || width < LEAST_RECTANGLE[1]) continue;
    offcuts.push({ polygon: piece.outer, rectangle: clear, area: regionArea(piece) });
  }
  const kept = offcuts.reduce((sum, { area }) => sum + area, 0);
  return { offcuts, areas: { stock, parts, kerf, offcuts: kept, waste: stock - parts - kerf - kept } };
}
