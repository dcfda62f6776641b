import { contains, distanceToRing, type Point } from '../geometry';
import { type Job, type Top, wantedTop } from '../job';
import type { Key } from '../keys';
import { formatLength } from '../units';
import { type Fixing, fixingOf } from '../wood';
import type { TopReport } from './report';

/** Wood between a screw, or its slot, and a pocket beside it, mm (ours). */
const BESIDE = 5;

/** How a planned top is fixed so that it may move. @throws InputProblem for an unknown species */
export function topFixing(job: Job, { id, placement, size }: Pick<TopReport, 'id' | 'placement' | 'size'>): Fixing {
  const species = job.flitches[placement.strips[0]?.flitch ?? '']?.species ?? '';
  const { siteMoisture, seasonSwing, screw } = job.shop;
  const fast: Top['fast'] = wantedTop(job, id)?.fast ?? 'front';
  const [driest, wettest] = [Math.max(0, siteMoisture - seasonSwing), siteMoisture + seasonSwing];
  return fixingOf({ species, length: size.length, depth: size.depth[1], driest, wettest, fast, screw });
}

/** A key with the screws and slots that come to lie under it or beside its pocket. */
interface Over {
  readonly key: Key;
  readonly number: number;
  readonly places: readonly Point<'top'>[];
}

/**
 * Which screws and slots that fix a top its keys stand in the way of, in sentences: under a pocket of the upper face less wood is left for a screw, one of
 * the under face takes its place. Rows are spread over the length as they are advised.
 */
export function screwNotes(job: Job, top: Pick<TopReport, 'id' | 'placement' | 'size' | 'keys'>): string[] {
  const { rows, screw, perRow, apart } = topFixing(job, top);
  const first = (top.size.length - apart * (perRow - 1)) / 2;
  const places = rows.flatMap(({ at, slot }) =>
    Array.from({ length: perRow }, (_, i) => ({
      at: [first + i * apart, at] as Point<'top'>,
      room: Math.max(slot, screw) / 2 + BESIDE,
    })),
  );
  const over = top.keys.flatMap((key, i): Over[] => {
    const own = places.filter(({ at, room }) => contains(key.outline, at) || distanceToRing(at, key.outline) < room);
    return own.length > 0 ? [{ key, number: i + 1, places: own.map(({ at }) => at) }] : [];
  });
  const say = (mm: number): string => formatLength(mm, job.units, { unit: true, decimals: 0 });
  const where = ({ places: at }: Over): string =>
    at.map(([x, y]) => `${say(top.size.length - x)} from the left, ${say(y)} from the front`).join('; ');
  const [above, below] = (['top', 'bottom'] as const).map((face) => over.filter(({ key }) => key.face === face)) as [
    Over[],
    Over[],
  ];
  const list = (of: readonly Over[], words: (each: Over) => string): string =>
    of.map((each) => `K${each.number} (${words(each)})`).join(', ');
  return [
    ...(above.length > 0
      ? [
          `Screws that fix the top come under ${list(above, (each) => `${where(each)}: ${say(each.key.under)} of wood left`)}. Take shorter ones there, or move them along their row.`,
        ]
      : []),
    ...(below.length > 0
      ? [
          `Screws that fix the top would meet ${list(below, where)} in the under face. Move them along their row, clear of the key.`,
        ]
      : []),
  ];
}
