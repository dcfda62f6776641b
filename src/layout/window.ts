import { bounds, intersection, largestRegion, type Region, rectangle } from '../geometry';
import type { FaceStock } from './stock';

/** The stretch of a face between two x. */
export function clipped(stock: FaceStock, from: number, to: number): FaceStock {
  const box = bounds(stock.outline.outer);
  const window: Region<'face'>[] = [{ outer: rectangle(from, box.minY - 1, to, box.maxY + 1), holes: [] }];
  const outline = largestRegion(intersection([stock.outline], window));
  return { ...stock, outline, inside: intersection(stock.inside, window) };
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
