import type { SetMiss } from '../job';
import { formatLength } from '../units';
import type { WoodLeft } from './backer';
import type { Bench, ReadyLeaf } from './set-bench';
import type { Sheet, SizedFront, Slot } from './set-slots';
import { statesOf } from './window-states';

const mm = (length: number): string => formatLength(length, 'mm', { unit: true, as: 'typed' });
export const plural = (n: number): string => (n === 1 ? '1 leaf' : `${n} leaves`);

interface Size {
  readonly along: number;
  readonly across: number;
}

function sizeOf(slot: Slot): Size {
  const { minX, maxX, minY, maxY } = slot.box;
  return { along: maxX - minX, across: maxY - minY };
}

/** How many of some leaves, as they came to the bench, would take a slot; like slots are looked for once. */
export function soundFor(bench: Bench, usable: readonly number[]): (slot: Slot) => number {
  const known = new Map<string, number>();
  return (slot) => {
    let count = known.get(slot.key);
    if (count === undefined) {
      const leaves = usable.map((k) => bench.leaves[k] as ReadyLeaf);
      count = leaves.filter((leaf) => statesOf(leaf, slot, { from: 0, to: leaf.length }, []).length > 0).length;
      known.set(slot.key, count);
    }
    return count;
  };
}

/** Why a sheet's fronts have no face: the leaves are too short, too narrow, too faulty, or too few. */
export function faceMisses(sheet: Sheet, left: WoodLeft, soundIn: (slot: Slot) => number): SetMiss[] {
  const { bench } = left;
  const sizes = sheet.slots.map(sizeOf);
  const along = Math.max(...sizes.map((size) => size.along));
  const across = Math.max(...sizes.map((size) => size.across));
  const usable = left.usable.map((k) => bench.leaves[k] as ReadyLeaf);
  const longest = Math.max(0, ...usable.map(({ length }) => length));
  const widest = Math.max(0, ...usable.map(({ width }) => width));
  const run = sheet.fronts.length > 1;
  const who = run ? 'With the fronts that carry its grain on it' : 'It';
  const [reason, mend] = ((): [string, string] => {
    if (usable.length === 0)
      return ['There is no leaf to lay it on.', 'Photograph leaves, or take back those that were left out.'];
    if (along > longest) {
      return [
        `${who} takes ${mm(along)} along the grain and the longest leaf is ${mm(longest)}.`,
        run
          ? 'Let the grain begin anew in some of them, or saw a longer board.'
          : 'Join leaves end to end (an end match in two rows), or saw a longer board.',
      ];
    }
    if (across > widest) {
      return [
        `${who} wants leaves ${mm(across)} wide${bench.rules.jointing > 0 ? ', edges to be jointed among it' : ''}, and the widest is ${mm(widest)}.`,
        'Make it of more leaves, or saw a wider board.',
      ];
    }
    const [slot] = sheet.slots as [Slot];
    const sound = soundIn(slot);
    const want = sheet.slots.length;
    const window = `${mm(along)} by ${mm(across)}`;
    const another = (short: number) =>
      `aw another board at least ${mm(along)} long and ${mm(across)} wide into ${plural(short)} or more`;
    if (sound < want) {
      const faulty = usable.length - sound;
      return [
        `${who} wants ${plural(want)} with a sound window of ${window}, and ${faulty === 0 ? `there ${usable.length === 1 ? 'is' : 'are'} ${usable.length}` : `${sound} of the ${usable.length} have one`}: ${plural(want - sound)} short.`,
        faulty === 0
          ? `S${another(want - sound)}, or want a narrower front.`
          : `Make it of more and narrower leaves, cover what is faulty, or s${another(want - sound)}.`,
      ];
    }
    const free = left.usable.filter((k) => left.place(k, along, across) !== null).length;
    if (free < want) {
      return [
        `${who} wants ${plural(want)} with a window of ${window}, and ${free === 0 ? 'none is' : `${free} are`} left: ${plural(want - free)} short.`,
        `S${another(want - free)}, or want fewer fronts.`,
      ];
    }
    return [
      `${plural(want)} would do, but their sound windows of ${window} do not lie where the leaves match.`,
      'Make it of more leaves, or let it match at random.',
    ];
  })();
  return sheet.fronts.map(({ id }) => ({ front: id, what: 'face' as const, reason, mend }));
}

/** Why a front has no back. */
export function backMiss({ id, door, sizes }: SizedFront, want: number, have: number): SetMiss {
  const rows = door.ends?.rows ?? 1;
  const window = `${mm(sizes.pressed.height / rows)} by ${mm((sizes.pressed.width * rows) / want)}`;
  return {
    front: id,
    what: 'back',
    reason: `Its face can be had, but its back wants ${plural(want)} and ${have} will do: a panel with one veneered face warps.`,
    mend: `Saw another board into ${plural(want - have)} of ${window} or more, or back it with a bought veneer that moves alike.`,
  };
}
