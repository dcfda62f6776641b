import { useMemo } from 'preact/hooks';
import { bounds, contains, distance, type Point } from '../../../geometry';
import type { HandKey } from '../../../keys';
import type { Grip } from '../../canvas/gestures';
import { extentOf, type Handle, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import { useNarrow } from '../../parts/use-narrow';
import type { JobStore } from '../../store';
import { bareTopItems, laidTop, topMarks } from '../layout/top-items';
import type { FaceLooks } from '../layout/wood';
import { addKey, changeKey, dropKey, type KeyBench, newKey, putKeys, widestGap } from './bench';
import type { KeysHand } from './hand';
import { clearanceItems, crackItems, defectItems, keyItems, numberItem } from './key-items';
import { nextSize } from './key-moves';

/** A tap this near to a crack means it, px. */
const REACH = 22;
/** Around a crack that is looked at closely, mm. */
const AROUND = 120;
/** A key turns so far at a tap, degrees. */
const TURN = 1;
const NOTHING: readonly Item[] = [];

interface KeySheetProps {
  store: JobStore;
  bench: KeyBench;
  hand: KeysHand;
  looks: FaceLooks;
  species: string;
}

/** The top by its photos with its keys at true scale, each to be slid along its crack. */
export function KeySheet({ store, bench, hand, looks, species }: KeySheetProps) {
  const units = useUnits();
  const narrow = useNarrow();
  const { top, room, keys } = bench;
  const held = hand.held.value;
  const chosen = held ? held.i : hand.chosen.value;
  const spot = hand.spot.value;
  const crack = hand.crack.value;
  const lay = useMemo(() => laidTop(top, 0), [top]);
  const still = held?.i ?? -1;

  const under = useMemo((): Item[] => {
    const drawn = { top: { ...top, keys: [], cracks: [] }, placement: top.placement, outline: top.outline };
    return [
      ...bareTopItems(drawn, looks, 0),
      ...topMarks(drawn, 0, units),
      ...defectItems(bench, lay),
      ...crackItems(bench, lay),
    ];
  }, [top, looks, units]);
  const items = useMemo(
    (): Item[] => [
      ...under,
      ...keys.flatMap((_, i) =>
        i === still
          ? []
          : [...keyItems(bench, i, lay, species, i === chosen), ...numberItem(bench, i, lay, i === chosen)],
      ),
      ...(spot
        ? [{ kind: 'spot', id: 'spot', at: lay(room.placeOn(spot.crack, spot.along)), pen: 'chosen' } as const]
        : []),
    ],
    [under, bench, still, chosen, spot, species],
  );
  const moving = useMemo((): readonly Item[] => {
    if (chosen === null) return NOTHING;
    if (!held) return clearanceItems(bench, chosen, lay, units);
    const now = { ...bench, keys: held.keys, judged: bench.judged.with(held.i, room.judge(held.keys, held.i)) };
    return [
      ...keyItems(now, held.i, lay, species, true),
      ...clearanceItems(now, held.i, lay, units),
      ...numberItem(bench, held.i, lay, true).map((item) =>
        item.kind === 'text' ? { ...item, at: shiftedBy(item.at, bench, held.keys, held.i, lay) } : item,
      ),
    ];
  }, [bench, held, chosen, units, species]);
  const handles = useMemo((): Handle[] => {
    const key = chosen === null ? undefined : keys[chosen];
    return key ? [{ id: String(chosen), at: lay(room.placeOn(key.crack, key.along, key.face)) }] : [];
  }, [keys, chosen]);

  const toTop = (at: XY): Point<'top'> => lay(at) as Point<'top'>;
  const slid = (i: number, along: number) => {
    const key = keys[i];
    if (!key) return;
    const to = Math.min(room.lengthOf(key.crack, key.face), Math.max(0, along));
    hand.held.value = { keys: keys.with(i, { ...key, along: to }), i };
  };
  const dropped = () => {
    const now = hand.held.peek();
    if (now) putKeys(store, bench, hand, 'Slide a key', now.keys, now.keys[now.i] ?? null);
  };
  function grab(at: XY, perPx: number, handle: string | null): Grip | null {
    const place = toTop(at);
    const i = handle !== null ? Number(handle) : keyAt(bench, place, REACH * perPx);
    const key = keys[i];
    if (!key) return null;
    const off = handle !== null ? 0 : key.along - room.nearestOn(key.crack, place, key.face).along;
    return {
      drag(to) {
        if (hand.chosen.peek() !== i) hand.choose(i, key.crack);
        slid(i, room.nearestOn(key.crack, toTop(to), key.face).along + off);
      },
      drop: dropped,
      tap: () => hand.choose(i, key.crack),
    };
  }
  /** An arrow key: as far along the crack as the sheet says, towards where the arrow points. */
  function nudged(id: string, to: XY) {
    const key = keys[Number(id)];
    const from = handles[0]?.at;
    if (!key || !from) return;
    const ahead = lay(room.placeOn(key.crack, key.along + 1, key.face));
    const behind = lay(room.placeOn(key.crack, key.along - 1, key.face));
    const [ux, uy] = [ahead[0] - behind[0], ahead[1] - behind[1]];
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const along = (ux * dx + uy * dy) / (Math.hypot(ux, uy) || 1);
    const far = Math.hypot(dx, dy);
    if (Math.abs(along) < far / 3) return;
    changeKey(store, bench, hand, 'Slide a key', Number(id), { along: key.along + Math.sign(along) * far });
  }
  function tapped(at: XY, perPx: number) {
    const place = toTop(at);
    const near = top.cracks
      .map((_, i) => ({ crack: i, ...room.nearestOn(i, place) }))
      .filter(({ off }) => off <= REACH * perPx)
      .sort((a, b) => a.off - b.off)[0];
    hand.choose(null, near?.crack);
    hand.spot.value = near ? { crack: near.crack, along: near.along } : null;
  }
  const next = (by: number) => () => {
    if (keys.length === 0) return;
    const i = chosen === null ? (by > 0 ? 0 : keys.length - 1) : (chosen + by + keys.length) % keys.length;
    hand.choose(i, keys[i]?.crack);
  };
  const turn = (by: number) => () => {
    const key = chosen === null ? undefined : keys[chosen];
    if (key && chosen !== null) changeKey(store, bench, hand, 'Turn a key', chosen, { turn: key.turn + by });
  };
  const resize = (by: number) => () => {
    const key = chosen === null ? undefined : keys[chosen];
    if (key && chosen !== null)
      changeKey(store, bench, hand, 'Another size of key', chosen, { size: nextSize(bench.input, key.size, by) });
  };
  const add = () => {
    if (top.cracks.length === 0) return;
    const [own, along] = spot ? [spot.crack, spot.along] : [crack, widestGap(bench, crack)];
    addKey(store, bench, hand, newKey(bench, hand, own, along));
  };

  const close = narrow && !hand.whole.value && top.cracks[crack];
  const box = bounds(close ? close.line.map(([x, y]) => lay([x, y])) : top.outline.map(lay));
  const corners: XY[] = close
    ? [
        [box.minX - AROUND, box.minY - AROUND],
        [box.maxX + AROUND, box.maxY + AROUND],
      ]
    : [
        [box.minX - 40, box.minY - 110],
        [box.maxX + 130, box.maxY + 40],
      ];
  return (
    <Sheet
      label={`Drawing of ${top.name} with its keys`}
      items={items}
      moving={moving}
      extent={extentOf(corners, 0)}
      extentKey={`${top.id}/${close ? crack : 'whole'}`}
      handles={handles}
      chosen={chosen === null ? null : String(chosen)}
      onChoose={(id) => hand.choose(id === null ? null : Number(id), id === null ? undefined : keys[Number(id)]?.crack)}
      onGrab={grab}
      onDrop={nudged}
      onCancel={() => {
        hand.held.value = null;
      }}
      onTap={tapped}
      onDelete={(id) => dropKey(store, bench, hand, Number(id))}
      keys={{ a: add, n: next(1), p: next(-1), t: turn(TURN), T: turn(-TURN), s: resize(1), S: resize(-1) }}
      keysSay="N and P choose the next and previous key; arrow keys then slide it along its crack. A adds a key, T turns it and S gives it the next size; with Shift the other way."
      step={1}
      foot={
        narrow && (
          <button
            type="button"
            class="button quiet"
            aria-pressed={hand.whole.value}
            onClick={() => {
              hand.whole.value = !hand.whole.peek();
            }}
          >
            Whole top
          </button>
        )
      }
    />
  );
}

/** The key that a place means: the one that it lies on, else the nearest within reach; -1 where there is none. */
function keyAt({ judged }: KeyBench, place: Point<'top'>, reach: number): number {
  const on = judged.findIndex((one) => one && contains(one.outline, place));
  if (on >= 0) return on;
  const off = (one: KeyBench['judged'][number]) => (one ? distance(one.pose.at, place) : Infinity);
  const nearest = judged.reduce((best, one, i) => (off(one) < off(judged[best] ?? null) ? i : best), 0);
  return off(judged[nearest] ?? null) <= reach ? nearest : -1;
}

/** A number's place, moved along with its key. */
function shiftedBy(at: XY, bench: KeyBench, keys: readonly HandKey[], i: number, lay: (at: XY) => XY): XY {
  const [was, is] = [bench.keys[i], keys[i]];
  if (!was || !is) return at;
  const [a, b] = [was, is].map(({ crack, along, face }) => lay(bench.room.placeOn(crack, along, face))) as [XY, XY];
  return [at[0] + b[0] - a[0], at[1] + b[1] - a[1]];
}
