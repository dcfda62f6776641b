import type { Item, XY } from '../../canvas/items';

/** Drawings in rows on a sheet. */
export interface Arranged {
  readonly places: readonly XY[];
  readonly width: number;
  readonly height: number;
}

/** Drawings in their order, in rows no wider than `widest`, each row as high as its highest. */
function inRows(sizes: readonly XY[], widest: number, gap: number): Arranged {
  const places: XY[] = [];
  let [x, y, high, width] = [0, 0, 0, 0];
  for (const [w, h] of sizes) {
    if (x > 0 && x + w > widest) [x, y, high] = [0, y + high + gap, 0];
    places.push([x, y]);
    [x, high, width] = [x + w + gap, Math.max(high, h), Math.max(width, x + w)];
  }
  return { places, width, height: y + high };
}

/**
 * Drawings in their order in as many rows as show them largest.
 * @param sizes width and height of each, mm
 * @param shape width over height of the pane that they are shown in
 * @param gap between rows and columns, mm
 */
export function arranged(sizes: readonly XY[], shape: number, gap: number): Arranged {
  const scaleOf = ({ width, height }: Arranged): number => Math.min(shape / width, 1 / height);
  const widths = sizes.flatMap((_, from) =>
    sizes.slice(from).map((__, i) => sizes.slice(from, from + i + 1).reduce((sum, [w]) => sum + w + gap, -gap)),
  );
  return widths
    .map((widest) => inRows(sizes, widest, gap))
    .reduce((best, one) => (scaleOf(one) > scaleOf(best) * (1 + 1e-9) ? one : best), inRows(sizes, 0, gap));
}

/** Width over height of the pane of a drawing, about: the whole sheet on a narrow screen, half of it on a wide one. */
export const paneShape = (narrow: boolean): number => (narrow ? 1 : 2);

/** What is drawn, elsewhere on the sheet. */
export function movedItem(item: Item, [dx, dy]: XY, id = item.id): Item {
  const shift = ([x, y]: XY): XY => [x + dx, y + dy];
  if (item.kind === 'picture') {
    const [a, b, c, d, e, f] = item.map;
    return { ...item, id, map: [a, b, c, d, e + dx, f + dy], ...(item.clip && { clip: item.clip.map(shift) }) };
  }
  if (item.kind === 'strokes') return { ...item, id, lines: item.lines.map((line) => line.map(shift)) };
  if (item.kind === 'line') return { ...item, id, points: item.points.map(shift) };
  if (item.kind === 'area')
    return { ...item, id, points: item.points.map(shift), holes: (item.holes ?? []).map((hole) => hole.map(shift)) };
  if (item.kind === 'text') return { ...item, id, at: shift(item.at), ...(item.or && { or: item.or.map(shift) }) };
  return { ...item, id, at: shift(item.at) };
}
