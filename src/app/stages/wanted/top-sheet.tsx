import { useMemo } from 'preact/hooks';
import type { Top } from '../../../job';
import { formatLength } from '../../../units';
import { extentOf, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';

/** Room between one top and the next, and for its dimensions, mm on the sheet. */
const GAP = 260;
/** How far a dimension's line stands off. */
const OFF = 70;

/** The wanted tops to scale, one below the other: back above, front below, the band of a live edge between its two depths. */
export function TopSheet({ tops }: { tops: readonly Top[] }) {
  const units = useUnits();
  const items = useMemo(() => {
    let y = 0;
    return tops.flatMap((top) => {
      const drawn = itemsOf(top, y, (mm) => formatLength(mm, units));
      y += top.depth[1] + GAP;
      return drawn;
    });
  }, [tops, units]);
  const deepest = tops.reduce((sum, { depth }) => sum + depth[1] + GAP, -GAP);
  const longest = Math.max(...tops.map(({ length }) => length));
  const corners: XY[] = [
    [-2 * OFF, -2 * OFF],
    [longest + 3 * OFF, deepest + OFF],
  ];
  return (
    <Sheet
      label={`Drawing of ${tops.length === 1 ? 'the wanted top' : `${tops.length} wanted tops`}`}
      items={items}
      extent={extentOf(corners, 0.02)}
      extentKey={JSON.stringify(tops.map(({ length, depth }) => [length, depth]))}
    />
  );
}

function itemsOf(top: Top, y: number, say: (mm: number) => string): Item[] {
  const { id, length, depth, front } = top;
  const [least, most] = depth;
  const line = (name: string, points: XY[], pen: 'ink' | 'faint' | 'cut' | 'measured', closed = false): Item => ({
    kind: 'line',
    id: `${id}-${name}`,
    points,
    pen,
    closed,
  });
  const text = (name: string, at: XY, words: string, turn = 0): Item => ({
    kind: 'text',
    id: `${id}-${name}`,
    at,
    text: words,
    pen: 'measured',
    shape: 'bare',
    turn,
  });
  const edge: XY[] = Array.from({ length: 41 }, (_, i) => {
    const x = (length * i) / 40;
    // A wavy line between the two depths stands for a live edge that nobody knows yet.
    const wave = 0.5 + 0.3 * Math.sin(i * 0.55) + 0.18 * Math.sin(i * 1.3);
    return [x, y + (front === 'live' ? least + (most - least) * wave : most)];
  });
  return [
    line('shape', [[0, y], [length, y], ...edge.toReversed()], 'ink', true),
    ...(front === 'live'
      ? [
          line(
            'least',
            [
              [0, y + least],
              [length, y + least],
            ],
            'faint',
          ),
          line(
            'most',
            [
              [0, y + most],
              [length, y + most],
            ],
            'faint',
          ),
        ]
      : []),
    line(
      'along',
      [
        [0, y - OFF],
        [length, y - OFF],
      ],
      'measured',
    ),
    text('length', [length / 2, y - OFF], say(length)),
    line(
      'deep',
      [
        [length + OFF, y],
        [length + OFF, y + most],
      ],
      'measured',
    ),
    text('depth', [length + OFF, y + most / 2], least === most ? say(most) : `${say(least)}–${say(most)}`, -90),
    {
      kind: 'text',
      id: `${id}-name`,
      at: [length / 2, y + least / 2],
      text: `${top.count > 1 ? `${top.count} × ` : ''}${top.name}, ${say(top.thickness)} thick`,
      pen: 'ink',
      shape: 'bare',
    },
  ];
}
