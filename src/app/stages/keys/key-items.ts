import { ribbon, type WideLine } from '../../../geometry';
import { kept } from '../../../keys';
import { formatLength, type UnitSystem } from '../../../units';
import type { Item, Pen, XY } from '../../canvas/items';
import { type KeyBench, numberOf } from './bench';
import { swatchOn, woodSwatch } from './wood-colour';

type Lay = (at: XY) => XY;
/** From a key's end to its number, mm. */
const OFF = 32;
/** How far off what is farther away than this, mm, is not drawn: it stands in the table. Neighbours on the crack always are. */
const FAR = 150;
const NEIGHBOURS: readonly string[] = ['the key before', 'the next key'];

/** A key at true scale in its own wood. @param lay from the top to the sheet, a half turn */
export function keyItems(bench: KeyBench, i: number, lay: Lay, species: string, chosen: boolean): Item[] {
  const { keys, judged, room } = bench;
  const [key, at] = [keys[i], judged[i]];
  const size = key && room.sizeOf(key);
  if (!key || !at || !size) return [];
  const { perPx, corner } = swatchOn(size);
  const [cos, sin] = [Math.cos(at.pose.turn), Math.sin(at.pose.turn)];
  const [x, y] = at.pose.at;
  const start = lay([x + corner * (cos - sin), y + corner * (sin + cos)]);
  const ring = at.outline.map(lay);
  return [
    {
      kind: 'picture',
      id: `key-${i}-wood`,
      image: woodSwatch(species),
      map: [-perPx * cos, -perPx * sin, perPx * sin, -perPx * cos, ...start],
      clip: ring,
      // What lies under the top is seen through it.
      strength: key.face === 'bottom' ? 0.45 : 1,
    },
    { kind: 'area', id: `key-${i}`, points: ring, hatch: at.against ? 'doubt' : 'none', pen: penOf(bench, i, chosen) },
    ...(at.under
      ? [{ kind: 'area', id: `key-${i}-under`, points: at.under.map(lay), hatch: 'none', pen: 'broken' } as const]
      : []),
  ];
}

function penOf({ keys, judged }: KeyBench, i: number, chosen: boolean): Pen {
  if (judged[i]?.against) return 'rough';
  if (chosen) return 'chosen';
  return keys[i]?.face === 'bottom' ? 'broken' : 'cut';
}

/** A key's number, beyond the end that is higher on the sheet. */
export function numberItem(bench: KeyBench, i: number, lay: Lay, chosen: boolean): Item[] {
  const at = bench.judged[i];
  const size = at && bench.room.sizeOf(bench.keys[i]!);
  if (!at || !size) return [];
  const [x, y] = lay(at.pose.at);
  const [cos, sin] = [Math.cos(at.pose.turn), Math.sin(at.pose.turn)];
  const side = sin > 0 ? -1 : 1;
  const off = size.length / 2 + OFF;
  const text = numberOf(bench, i);
  return [
    {
      kind: 'text',
      id: `key-${i}-number`,
      at: [x + side * cos * off, y + side * sin * off],
      text,
      pen: chosen ? 'chosen' : 'cut',
      shape: text.length > 2 ? 'box' : 'ring',
    },
  ];
}

/** What else keys keep clear of on the wood: knots, voids and the like, hatched by kind. */
export const defectItems = ({ input }: KeyBench, lay: Lay): Item[] =>
  input.defects.flatMap(({ kind, polygon, permit }, i): Item[] =>
    polygon && permit !== 'allow'
      ? [{ kind: 'area', id: `defect-${i}`, points: polygon.map(lay), hatch: kind, pen: 'ink' }]
      : [],
  );

/** The cracks at their width; those that nobody has confirmed are dashed, as are their traces on the under face. */
export const crackItems = ({ top }: KeyBench, lay: Lay): Item[] =>
  top.cracks.flatMap(({ id, line, far, seam, proposed }) =>
    seam
      ? []
      : [
          crackItem(`crack-${id}`, line, lay, proposed ? 'broken' : 'ink'),
          ...(far ? [crackItem(`crack-${id}-under`, far, lay, 'broken')] : []),
        ],
  );

const crackItem = (id: string, line: WideLine, lay: Lay, pen: Pen): Item => ({
  kind: 'area',
  id,
  points: ribbon<'top'>(line).map(lay),
  hatch: 'none',
  pen,
});

/** Whether a place lies from `a` towards `b`. */
const between = ([x, y]: XY, a: XY, b: XY): boolean => (x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1]) > 0;

/** How far a key stands off what is near it, drawn where it is measured; what breaks a rule is red. */
export function clearanceItems(bench: KeyBench, i: number, lay: Lay, units: UnitSystem): Item[] {
  const all = bench.judged[i]?.clearances ?? [];
  return all.flatMap((each, k): Item[] => {
    const { to, mm, from, at } = each;
    if (mm < 0.5 || (mm > FAR && !NEIGHBOURS.includes(to) && to !== 'the tip')) return [];
    // Beyond a nearer key the tip is that key's to keep off.
    if (to === 'the tip' && all.some((other) => NEIGHBOURS.includes(other.to) && between(other.at, from, at)))
      return [];
    const [a, b] = [lay(from), lay(at)];
    const pen = kept(each) ? 'measured' : 'cut';
    return [
      { kind: 'line', id: `off-${k}`, points: [a, b], pen },
      {
        kind: 'text',
        id: `off-${k}-says`,
        at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2],
        text: formatLength(mm, units, { decimals: 0 }),
        pen,
        shape: 'bare',
        yields: k,
      },
    ];
  });
}
