import { type Control, pause } from '../search';
import { coarser, type FaceFigure, faceFigures, ringsBetween } from './drift';
import { type Lie, turnsOf } from './drift-types';
import { chained, outOfOrder } from './sequence-chains';
import { LeafPairs, UNKNOWN } from './sequence-pairs';
import type { PhotographedLeaf, SequenceLink } from './sequence-types';
import { findingsOf, noFigure, type SequenceFinding } from './sequence-words';

export type { PhotographedLeaf } from './sequence-types';

/** What the pictures of leaves say of their sequence. */
export interface LeafSequence {
  /** Places among the leaves given, in the order that the pictures tell. */
  readonly order: readonly number[];
  /** How each leaf (in the order given) was photographed against most of the others. */
  readonly lies: readonly Lie[];
  /** Between each leaf of the order and the next. */
  readonly links: readonly SequenceLink[];
  /** What does not agree with the numbers given, sentences with how sure; none where all is right. */
  readonly findings: readonly SequenceFinding[];
}

/** A link so much weaker than the usual one is doubted. */
const DOUBTED = 0.68;
/** Neighbours usually less alike than this show too little figure for anything to be told, or are none: over two cuts it is about as much. */
const FIGURED = 0.2;
/** A leaf that is this many cuts further off counts as so much less alike: of rows that agree with the pictures, that with the fewest gaps is right. */
const FARTHER = 0.25;

/**
 * Whether leaves are numbered as they were sawn, told by how their figure goes on from one to the next: which are out of order, where one is missing
 * (the rings have drifted as far as over two cuts), which was photographed end for end or shows its other face.
 * @param leaves in the order of their numbers
 * @param saw thickness of a leaf and kerf, mm
 * @throws Cancelled
 */
export async function leafSequence(
  leaves: readonly PhotographedLeaf[],
  saw: { readonly thickness: number; readonly kerf: number },
  control: Control,
): Promise<LeafSequence> {
  if (leaves.length < 2) return { order: [...leaves.keys()], lies: leaves.map(() => 'same'), links: [], findings: [] };
  await pause(control, 0, 'Reading the figure of the leaves');
  const bottoms = leaves.flatMap(({ bottom }) => (bottom ? [bottom] : []));
  const figures = faceFigures([...leaves.map(({ top }) => top), ...bottoms]).map(coarser);
  const pairs = new LeafPairs(figures.slice(0, leaves.length), saw);
  let held = 0;
  for (const i of pairs.untold()) {
    await pause(control, 0.2 + (0.2 * held++) / leaves.length, 'Holding leaves against the next');
    pairs.next(i);
  }
  const strong = pairs.settled();
  if (strong < FIGURED) {
    const links = leaves.slice(1).map((_, i) => ({ kinship: pairs.between(i, i + 1, 0).kinship, cuts: 1 }));
    return { order: [...leaves.keys()], lies: leaves.map(() => 'same'), links, findings: [noFigure(leaves)] };
  }
  const enough = Math.max(UNKNOWN, DOUBTED * strong);
  const chains = [[0]];
  for (let i = 1; i < leaves.length; i++) {
    await pause(control, 0.4 + (0.2 * i) / leaves.length, 'Holding each leaf against the next');
    const { kinship, cuts } = pairs.between(i - 1, i, enough);
    if (kinship < enough || cuts !== 1) chains.push([i]);
    else (chains.at(-1) as number[]).push(i);
  }
  const ends = [...new Set(chains.flatMap((chain) => [chain[0] as number, chain.at(-1) as number]))];
  for (const [i, a] of ends.entries()) {
    await pause(control, 0.6 + (0.3 * i) / ends.length, 'Looking for where doubtful leaves belong');
    if (chains.length > 1) for (const b of ends) if (a < b) pairs.between(a, b, enough);
  }
  const alike = (a: number, b: number): number => {
    const { kinship, cuts } = pairs.between(a, b, enough);
    return kinship * (1 - FARTHER * (Math.abs(cuts) - 1));
  };
  const order = chained(chains, alike);
  const links = order.slice(1).map((b, i): SequenceLink => {
    const { kinship, cuts } = pairs.between(order[i] as number, b, enough);
    return { kinship, cuts: Math.abs(cuts) };
  });
  const lies = liesOf(order, pairs, enough);
  await pause(control, 0.9, 'Looking which way the leaves lie');
  const backwards = runsBackwards(leaves, figures, order, lies, saw.kerf);
  const findings = findingsOf(leaves, { order, lies, links, strong, moved: outOfOrder(order), backwards });
  control.progress(1);
  return { order, lies, links, findings };
}

/** How each leaf lies against the most of them, one after the other along the order. */
function liesOf(order: readonly number[], pairs: LeafPairs, enough: number): Lie[] {
  const lies: Lie[] = order.map(() => 'same');
  order.slice(1).forEach((b, i) => {
    const a = order[i] as number;
    const { lie, kinship } = pairs.between(a, b, enough);
    // Where nothing tells, a leaf is taken to lie as the one before.
    lies[b] = kinship > UNKNOWN ? together(lies[a] as Lie, lie) : (lies[a] as Lie);
  });
  const usual = [...lies].sort((a, b) => count(lies, b) - count(lies, a))[0] as Lie;
  return lies.map((lie) => together(lie, usual));
}

const count = (lies: readonly Lie[], lie: Lie): number => lies.filter((one) => one === lie).length;

/** One turn after another. */
function together(a: Lie, b: Lie): Lie {
  const [[p, q], [u, v]] = [turnsOf(a), turnsOf(b)];
  const [along, across] = [p * u, q * v];
  return along > 0 ? (across > 0 ? 'same' : 'over') : across > 0 ? 'over end for end' : 'end for end';
}

/**
 * Whether the leaves run from the last to the first: told where both faces were photographed, since only faces of one cut are a kerf apart.
 * Null where that is not told.
 */
function runsBackwards(
  leaves: readonly PhotographedLeaf[],
  figures: readonly FaceFigure[],
  order: readonly number[],
  lies: readonly Lie[],
  kerf: number,
): boolean | null {
  let at = leaves.length;
  const bottomOf = leaves.map(({ bottom }) => (bottom ? (figures[at++] as FaceFigure) : null));
  let [forward, back] = [0, 0];
  for (let i = 0; i + 1 < order.length; i++) {
    const [a, b] = [order[i] as number, order[i + 1] as number];
    const [under, over] = [bottomOf[a], bottomOf[b]];
    if (!under || !over || lies[a] !== 'same' || lies[b] !== 'same') continue;
    const kin = (p: FaceFigure, q: FaceFigure) =>
      Math.max(...(['over', 'over end for end'] as const).map((lie) => ringsBetween(p, q, lie)(kerf).kinship));
    forward += kin(under, figures[b] as FaceFigure);
    back += kin(over, figures[a] as FaceFigure);
  }
  return forward + back > 2 * UNKNOWN ? back > forward : null;
}
