import { bounds, intersection, type Region, rectangle, regionArea } from '../geometry';
import type { Top } from '../job';
import type { FaceStock } from './stock';

/** Room kept beside a window for the crosscut, its allowance and a slide, mm. */
const SLACK = 60;

function clipped(stock: FaceStock, from: number, to: number): FaceStock {
  const box = bounds(stock.outline.outer);
  const window: Region<'face'>[] = [{ outer: rectangle(from, box.minY - 1, to, box.maxY + 1), holes: [] }];
  const outline = intersection([stock.outline], window).reduce((a, b) => (regionArea(b) > regionArea(a) ? b : a));
  return { ...stock, outline, inside: intersection(stock.inside, window) };
}

/**
 * The stock as it is offered to one top: whole, and, where the job wants several tops, also its left and its right end alone, so
 * that the tops can share a slab. Lists of slabs, each a way of looking at all of them.
 */
export function offers(stock: readonly FaceStock[], top: Top, tops: number): readonly (readonly FaceStock[])[] {
  if (tops < 2) return [stock];
  const need = top.length + 2 * SLACK;
  const ends = [true, false].map((left) =>
    stock.flatMap((s) => {
      const { minX, maxX } = bounds(s.outline.outer);
      if (maxX - minX < need + SLACK) return [];
      return [left ? clipped(s, minX, minX + need) : clipped(s, maxX - need, maxX)];
    }),
  );
  return [stock, ...ends.filter((list) => list.length > 0)];
}

/** A slab's lengths, one after the other, each as long as the rest and `need` at least; none where it gives only one. */
export function sections(stock: FaceStock, need: number): FaceStock[] {
  const { minX, maxX } = bounds(stock.outline.outer);
  const count = Math.floor((maxX - minX) / need);
  if (count < 2) return [];
  const each = (maxX - minX) / count;
  return Array.from({ length: count }, (_, i) => clipped(stock, minX + i * each, minX + (i + 1) * each));
}

/** The whole slab that a clipped one came from. */
export const whole = (stock: FaceStock, all: readonly FaceStock[]): FaceStock =>
  all.find(({ key }) => key === stock.key) ?? stock;
