import { useMemo, useState } from 'preact/hooks';
import type { Point, Segment } from '../../../geometry';
import type { Face } from '../../../job';
import type { BlankReport } from '../../../plan';
import { formatLength } from '../../../units';
import { extentOf, type Handle, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import { useImage } from '../../parts/use-image';
import type { JobStore } from '../../store';
import { contactItems, type PassShown } from './contact-items';
import type { Standing } from './use-blank-drawing';

interface BlankSheetProps {
  store: JobStore;
  face: Face;
  blank: BlankReport;
  title: string;
  line: Segment<'face'>;
  onLine(line: Segment<'face'>): void;
  standing: Standing | null;
  shown: PassShown | null;
}

const ENDS = ['from', 'to'] as const;

/**
 * The slab's photo with the blank on it: where it is shimmed, what holds it, where a pass cuts, and the line along which it is looked at
 * from the side. Both ends of that line can be dragged, or moved by taps and by keys.
 */
export function BlankSheet({ store, face, blank, title, line, onLine, standing, shown }: BlankSheetProps) {
  const units = useUnits();
  const [chosen, setChosen] = useState<string | null>(null);
  const { picture } = face;
  const image = useImage(store, picture?.file ?? null);
  const ground = useMemo((): Item[] => {
    const items: Item[] = [];
    if (image && picture) {
      const { mmPerPx, x0, y0 } = picture;
      items.push({ kind: 'picture', id: 'photo', image, map: [mmPerPx, 0, 0, mmPerPx, x0, y0], strength: 0.6 });
    }
    if (face.outline)
      items.push({ kind: 'line', id: 'outline', points: face.outline.outer, closed: true, pen: 'faint' });
    items.push({ kind: 'line', id: 'blank', points: blank.rough, closed: true, pen: 'rough' });
    return items;
  }, [image, picture, face.outline, blank.rough]);
  const contact = useMemo(
    () => (standing && shown ? contactItems(standing, blank, shown) : []),
    [standing, blank, shown?.face, shown?.index],
  );
  const facts = useMemo((): Item[] => {
    const flat = blank.flattening;
    if (!flat) return [];
    return [
      ...flat.shims.map(
        ({ at, height }, i): Item => ({
          kind: 'text',
          id: `shim-${i}`,
          at,
          text: `S${i + 1} ${formatLength(height, units, { decimals: 1 })}`,
          pen: 'measured',
          shape: 'box',
        }),
      ),
      ...flat.limits.map(
        ({ at, face: side }, i): Item => ({
          kind: 'spot',
          id: `limit-${i}`,
          at,
          pen: 'ink',
          text: side === 'top' ? 'low' : 'high below',
        }),
      ),
    ];
  }, [blank.flattening, units]);
  const items = useMemo(
    (): Item[] => [
      ...ground,
      ...contact,
      ...facts,
      { kind: 'line', id: 'looked-along', points: line, pen: 'measured' },
    ],
    [ground, contact, facts, line],
  );
  const handles = useMemo((): Handle[] => line.map((at, i) => ({ id: ENDS[i] as string, at })), [line]);
  const move = (id: string, to: XY) => {
    const at = to as Point<'face'>;
    onLine(id === 'from' ? [at, line[1]] : [line[0], at]);
  };
  return (
    <Sheet
      label={`${title}: the blank on its slab, and the line along which it is seen from the side`}
      items={items}
      extent={extentOf(blank.rough, 0.1)}
      extentKey={blank.id}
      handles={handles}
      chosen={chosen}
      onChoose={setChosen}
      step={10}
      onDrag={move}
      onDrop={move}
      onPlace={(id, at) => {
        move(id, at);
        setChosen(null);
      }}
      foot={chosen && <p class="drag-says">Tap where this end is to go, or drag it there.</p>}
    />
  );
}
