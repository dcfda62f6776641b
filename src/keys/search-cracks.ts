import type { Polygon } from '../geometry';
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
  const seams = stretches.filter(decorates);
  const decorating = keyedTogether(seams, input, standing(holding));
  const rows = new Map([...cracks, ...seams].map((stretch, i) => [stretch, [...holding, ...decorating][i] ?? null]));
  return stretches.map((stretch) => rows.get(stretch) ?? null);
}

/**
 * Keys for stretches at once. Each is keyed at its best by itself; where no keys of two are in each other's way, that is the best of all. Where they are,
 * the stretches concerned are keyed one after the other in every order up to three of them, in four orders where there are more, then each anew among
 * the others until nothing gains: of each crack its best row among the others, of all together no proven best.
 * @param more what they keep clear of besides
 */
function keyedTogether(stretches: readonly Stretch[], input: KeysInput, more: readonly Obstacle[]): (Keyed | null)[] {
  const found = stretches.map((stretch) => keyed(stretch, input, more));
  const clear = askedBy(input.rules, 'key');
  for (const group of inEachOthersWay(found, clear)) {
    const others = [...more, ...standing(found.filter((_, i) => !group.includes(i)))];
    bestOrder(group, stretches, input, others).forEach((row, k) => {
      found[group[k] as number] = row;
    });
  }
  return found;
}

/** Keys as what the keys of other cracks keep clear of. */
export const standing = (rows: readonly (Keyed | null)[]): Obstacle[] =>
  rows.flatMap((row) =>
    (row?.keys ?? []).flatMap(({ outlines }) => outlines.map((ring) => obstacle('another key', ring, 'key'))),
  );

/** Groups of stretches that hang together by keys too near to each other. */
function inEachOthersWay(found: readonly (Keyed | null)[], clear: number): number[][] {
  const rings = found.map((row) => (row?.keys ?? []).flatMap(({ outlines }) => outlines));
  const clash = (a: readonly Polygon<'top'>[], b: readonly Polygon<'top'>[]) =>
    a.some((one) => b.some((other) => areaGap(one, other, Math.max(clear - 1e-6, 1e-6)) !== null));
  const groups: number[][] = [];
  rings.forEach((own, i) => {
    const touched = groups.filter((group) => group.some((k) => clash(own, rings[k] as Polygon<'top'>[])));
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
  others: readonly Obstacle[],
): (Keyed | null)[] {
  let best: { rows: Map<number, Keyed | null>; cost: Cost } | null = null;
  for (const order of orders(group)) {
    const rows = new Map<number, Keyed | null>();
    const anew = (i: number) =>
      keyed(stretches[i] as Stretch, input, [
        ...others,
        ...standing([...rows].flatMap(([k, row]) => (k === i ? [] : [row]))),
      ]);
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
