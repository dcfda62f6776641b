import { askedBy, type Obstacle, obstacle } from './clearance';
import { areaGap } from './gap';
import type { KeysInput } from './io';
import { addCosts, type Cost, compareCosts } from './search-row';
import { type Keyed, keyed, type Stretch } from './search-stretch';

/** Up to so many cracks whose keys are in each other's way are tried in every order; more, from either side and every other one first. */
const EVERY_ORDER = 3;
/** How often the cracks of such a group are gone through again, each keyed anew among the others. */
const ROUNDS = 2;

const FREE: Cost = { over: 0, misfit: 0, shift: 0, count: 0, value: 0 };

/**
 * Keys for all stretches: first those that hold a crack, then those that decorate a seam among them, so that no decoration takes the place of a key
 * that holds.
 * @returns one entry a stretch, null where no key fits
 */
export function keyedInTurn(stretches: readonly Stretch[], input: KeysInput): (Keyed | null)[] {
  const decorates = ({ rails }: Stretch) => rails.some(({ crack }) => input.cracks[crack]?.kind === 'seam');
  const cracks = stretches.filter((stretch) => !decorates(stretch));
  const holding = keyedTogether(cracks, input, []);
  const rows = new Map(cracks.map((stretch, i) => [stretch, holding[i] ?? null]));
  const seams = stretches.filter(decorates);
  keyedTogether(seams, input, [...rows]).forEach((row, i) => {
    rows.set(seams[i] as Stretch, row);
  });
  return stretches.map((stretch) => rows.get(stretch) ?? null);
}

/**
 * Keys for stretches at once. Each is keyed at its best by itself; where no keys of two are in each other's way, that is the best of all. Where they are,
 * the stretches concerned are keyed one after the other in every order up to three of them, in four orders where there are more, then each anew among
 * the others until nothing gains: of each crack its best row among the others, of all together no proven best.
 * @param more whose keys stand already
 */
function keyedTogether(stretches: readonly Stretch[], input: KeysInput, more: readonly Standing[]): (Keyed | null)[] {
  const found = stretches.map((stretch) => keyed(stretch, input, standing(stretch, more, input)));
  const all = found.map((row, i): Standing => [stretches[i] as Stretch, row]);
  for (const group of inEachOthersWay(all, input)) {
    const others = [...more, ...all.filter((_, i) => !group.includes(i))];
    bestOrder(group, stretches, input, others).forEach((row, k) => {
      found[group[k] as number] = row;
    });
  }
  return found;
}

/** A stretch with the keys that stand on it. */
export type Standing = readonly [Stretch, Keyed | null];

/**
 * Keys of other stretches as what the keys of one keep clear of: those in the same face, and those in the other face that are so deep that too little
 * wood would be left between two pockets.
 */
export const standing = (own: Stretch, others: readonly Standing[], input: KeysInput): Obstacle[] =>
  others.flatMap(([other, row]) =>
    (row?.keys ?? []).flatMap((key) =>
      hinders(own, other, key.size, input) ? key.outlines.map((ring) => obstacle('another key', ring, 'key')) : [],
    ),
  );

/** Whether a key of a size of one stretch may be in the way of keys of another. */
function hinders(own: Stretch, other: Stretch, size: number, { top, rules }: KeysInput): boolean {
  const faces = ({ rails: [rail] }: Stretch) => rail?.faces ?? [];
  if (faces(own).some((face) => faces(other).includes(face))) return true;
  const deepest = Math.max(...own.fits.map(({ depth }) => depth));
  return deepest + (other.fits[size]?.depth ?? 0) + rules.depth.floor > top.thickness + 1e-9;
}

/** Groups of stretches that hang together by keys too near to each other. */
function inEachOthersWay(found: readonly Standing[], input: KeysInput): number[][] {
  const clear = Math.max(askedBy(input.rules, 'key') - 1e-6, 1e-6);
  const clash = ([own, row]: Standing, [other, theirs]: Standing) =>
    (row?.keys ?? []).some((a) =>
      (theirs?.keys ?? []).some(
        (b) =>
          (hinders(own, other, b.size, input) || hinders(other, own, a.size, input)) &&
          a.outlines.some((one) => b.outlines.some((two) => areaGap(one, two, clear) !== null)),
      ),
    );
  const groups: number[][] = [];
  found.forEach((own, i) => {
    const touched = groups.filter((group) => group.some((k) => clash(own, found[k] as Standing)));
    const rest = groups.filter((group) => !touched.includes(group));
    groups.splice(
      0,
      groups.length,
      ...rest,
      [...touched.flat(), i].sort((a, b) => a - b),
    );
  });
  return groups.filter((group) => group.length > 1);
}

/** The best rows of a group, keyed one after the other in whichever order serves best, among what stands already. */
function bestOrder(
  group: readonly number[],
  stretches: readonly Stretch[],
  input: KeysInput,
  others: readonly Standing[],
): (Keyed | null)[] {
  let best: { rows: Map<number, Keyed | null>; cost: Cost } | null = null;
  for (const order of orders(group)) {
    const rows = new Map<number, Keyed | null>();
    const anew = (i: number) => {
      const own = stretches[i] as Stretch;
      const beside = [...rows].flatMap(([k, row]): Standing[] => (k === i ? [] : [[stretches[k] as Stretch, row]]));
      return keyed(own, input, standing(own, [...others, ...beside], input));
    };
    for (const i of order) rows.set(i, anew(i));
    for (let round = 0; round < ROUNDS; round++) {
      let gained = false;
      for (const i of order) {
        const row = anew(i);
        if (
          compareCosts(costOf(row, stretches[i] as Stretch), costOf(rows.get(i) ?? null, stretches[i] as Stretch)) >= 0
        )
          continue;
        rows.set(i, row);
        gained = true;
      }
      if (!gained) break;
    }
    const cost = group.reduce((sum, i) => addCosts(sum, costOf(rows.get(i) ?? null, stretches[i] as Stretch)), FREE);
    if (!best || compareCosts(cost, best.cost) < 0) best = { rows, cost };
  }
  return group.map((i) => best?.rows.get(i) ?? null);
}

/** A stretch without keys is left out as long as it is. */
const costOf = (row: Keyed | null, { length }: Stretch): Cost => row?.cost ?? { ...FREE, over: length };

/** The orders in which a group is tried. */
function orders(group: readonly number[]): number[][] {
  if (group.length > EVERY_ORDER) {
    const [one, other] = [0, 1].map((parity) => group.filter((_, i) => i % 2 === parity)) as [number[], number[]];
    return [[...group], [...group].reverse(), [...one, ...other], [...other, ...one]];
  }
  if (group.length < 2) return [[...group]];
  return group.flatMap((first) => orders(group.filter((i) => i !== first)).map((rest) => [first, ...rest]));
}
