import { bounds } from '../../../geometry';
import type { TopReport } from '../../../plan';
import { formatLength, type UnitSystem } from '../../../units';
import type { Item, XY } from '../../canvas/items';
import type { Computed } from '../../plan-view';

/** Room for the dimensions around a top, mm. */
const OFF = 70;

/** From a top's frame to the sheet: front below, as one stands before it. A half turn, never a mirror. */
export const laidTop =
  ({ size }: Pick<TopReport, 'size'>, y0: number) =>
  ([x, y]: XY): XY => [size.length - x, y0 + size.depth[1] - y];

/** A finished top as its photos show it, with its seams, keys and dimensions, its upper edge at y0. */
export function topItems(
  top: TopReport,
  picture: ReturnType<Computed['tops']['get']>,
  y0: number,
  units: UnitSystem,
): Item[] {
  const { id, size, outline, seams, keys, cracks } = top;
  const lay = laidTop(top, y0);
  const say = (mm: number): string => formatLength(mm, units);
  const [least, most] = size.depth;
  const items: Item[] = [];
  if (picture) {
    const { image, at } = picture;
    const [e, f] = lay([at.x0, at.y0]);
    items.push({ kind: 'picture', id: `${id}-picture`, image, map: [-at.mmPerPx, 0, 0, -at.mmPerPx, e, f] });
  }
  items.push({ kind: 'line', id: `${id}-outline`, points: outline.map(lay), closed: true, pen: 'ink' });
  for (const crack of cracks) {
    items.push({
      kind: 'line',
      id: `${id}-${crack.id}`,
      points: crack.line.map(([x, y]) => lay([x, y])),
      pen: 'faint',
    });
  }
  keys.forEach((key, i) => {
    items.push({ kind: 'area', id: `${id}-key-${i}`, points: key.outline.map(lay), hatch: 'key', pen: 'cut' });
  });
  seams.forEach(({ line: [a, b] }, i) => {
    items.push({
      kind: 'line',
      id: `${id}-seam-${i}`,
      points: [lay([a[0] - 25, a[1]]), lay([b[0] + 25, b[1]])],
      pen: 'joint',
    });
  });
  const { minX, maxX, minY, maxY } = bounds(outline.map(lay));
  const right = maxX + OFF;
  items.push(
    {
      kind: 'line',
      id: `${id}-along`,
      points: [
        [minX, minY - OFF],
        [maxX, minY - OFF],
      ],
      pen: 'measured',
    },
    {
      kind: 'text',
      id: `${id}-length`,
      at: [(minX + maxX) / 2, minY - OFF],
      text: say(size.length),
      pen: 'measured',
      shape: 'bare',
    },
    {
      kind: 'line',
      id: `${id}-across`,
      points: [
        [right, minY],
        [right, maxY],
      ],
      pen: 'measured',
    },
    {
      kind: 'text',
      id: `${id}-depth`,
      at: [right, (minY + maxY) / 2],
      text: most - least < 0.5 ? say(most) : `${say(least)}–${say(most)}`,
      pen: 'measured',
      shape: 'bare',
      turn: -90,
    },
  );
  return items;
}

/** Height that a top takes on the sheet, dimensions included. */
export const topHeight = ({ size }: TopReport): number => size.depth[1] + 2 * OFF;
