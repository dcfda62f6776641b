import { rectangle } from '../geometry';
import { type Control, pause, stage } from '../search';
import { formatLength } from '../units';
import type { LeavesOutput, Panel, PanelOutput, UsedLeaf } from './io';
import { type JointMeter, jointMeter } from './joint-meter';
import { firstFit, type Leaf, type Usable, usable } from './usable';
import { bestWindows, type Flip, jointSide, type LaidLeaf, type Spot } from './windows';

/** What a layout of panels gives: those that can be had, in the order asked, and those that cannot. */
export interface Matched {
  panels: PanelOutput[];
  short: NonNullable<LeavesOutput['short']>;
}

/** The most leaves that one face is made of. */
const MOST_LEAVES = 32;

const mm = (length: number): string => formatLength(length, 'mm', { unit: true, as: 'typed' });

/** How the k-th leaf of a panel lies (veneer_matching definitions: book mirrors in the joint, slip shifts, reverse slip turns by half). */
const FLIPS: Readonly<Record<Panel['match'], readonly [Flip, Flip]>> = {
  book: ['none', 'over'],
  slip: ['none', 'none'],
  'reverse slip': ['none', 'end'],
  random: ['none', 'end'],
};

interface Stack {
  readonly leaf: Leaf;
  readonly face: Usable;
  readonly back: Usable;
}

/**
 * Panels of matched leaves (COMMANDS `leaves`): which leaves, how each lies, and the window cut out of it. Leaves are taken in sawing
 * order, windows of one panel have equal widths (balanced), and stand where the edges that face each other across a joint look most
 * alike: for a book match each against the other's mirror image. Random panels come last and take the leaves out of sequence.
 * Then each face gets as many leaves for its back, the poorer ones, so that the panel stays flat.
 * @param leaves in sawing order, the grain along x
 * @param kerf of the saw, mm: what blend is held against
 * @throws Cancelled
 */
export async function matchPanels(
  leaves: readonly Leaf[],
  panels: readonly Panel[],
  kerf: number,
  control: Control,
): Promise<Matched> {
  await pause(control, 0, 'reading the leaves');
  const stack = leaves.map((leaf) => ({ leaf, face: usable(leaf, 'face'), back: usable(leaf, 'back') }));
  const left = new Set(stack.keys());
  const short: Matched['short'] = [];
  const made = new Map<string, PanelOutput>();
  let meter: JointMeter | null = null;
  // Reading the figure of all leaves is the larger part of the work: not done until a joint is to be matched.
  const measure = () => {
    meter ??= jointMeter(leaves, kerf);
    return meter;
  };
  const order = [...panels].sort((a, b) => Number(a.match === 'random') - Number(b.match === 'random'));
  for (const [i, panel] of order.entries()) {
    const part = stage(control, i / order.length, (i + 1) / order.length);
    const face = await faceOf(panel, stack, left, measure, part);
    if (typeof face === 'string') {
      short.push({ id: panel.id, reason: face });
      continue;
    }
    for (const { leaf } of face.row) left.delete(leaf);
    made.set(panel.id, { id: panel.id, leaves: face.used, blend: face.blend, backer: [] });
  }
  for (const panel of panels) {
    const one = made.get(panel.id);
    if (!one) continue;
    const back = backOf(panel, one.leaves.length, stack, left);
    if (typeof back === 'string') short.push({ id: panel.id, reason: back });
    else one.backer = back;
  }
  return { panels: panels.flatMap(({ id }) => made.get(id) ?? []), short };
}

interface Face {
  readonly row: readonly LaidLeaf[];
  readonly used: UsedLeaf[];
  readonly blend: number | null;
}

/** The face of one panel, or the sentence that says why it cannot be had. */
async function faceOf(
  panel: Panel,
  stack: readonly Stack[],
  left: ReadonlySet<number>,
  measure: () => JointMeter,
  control: Control,
): Promise<Face | string> {
  const longest = Math.max(0, ...stack.map(({ face }) => face.length));
  if (panel.height > longest)
    return `It is ${mm(panel.height)} high and the longest leaf is ${mm(longest)}: join leaves end to end, or saw a longer board.`;
  const counts = panel.joints === undefined ? Array.from({ length: MOST_LEAVES }, (_, i) => i + 1) : [panel.joints + 1];
  for (const count of counts) {
    const across = panel.width / count;
    const sound = [...left].filter((k) => firstFit((stack[k] as Stack).face, panel.height, across) !== null);
    if (sound.length < count) continue;
    for (const taken of runs(sound, count, panel.match)) {
      const row = taken.map((leaf, k) => ({
        leaf,
        flip: FLIPS[panel.match][k % 2] as Flip,
        usable: (stack[leaf] as Stack).face,
      }));
      const meter = count > 1 && panel.match !== 'random' ? measure() : null;
      const spots = await windowsOf(row, panel, across, meter, control);
      if (spots) return laidOut(row, spots, panel, across, stack, meter);
    }
  }
  return whyShort(panel, stack, left, counts);
}

/** Runs of `count` leaves to try: unbroken in sawing order first. A random match takes every other one instead. */
function runs(sound: readonly number[], count: number, match: Panel['match']): number[][] {
  if (match === 'random') {
    const mixed = [...sound.filter((_, i) => i % 2 === 0), ...sound.filter((_, i) => i % 2 === 1)];
    return [mixed.slice(0, count)];
  }
  const all = sound.slice(0, sound.length - count + 1).map((_, i) => sound.slice(i, i + count));
  const gaps = (run: readonly number[]) => (run.at(-1) as number) - (run[0] as number);
  return all.sort((a, b) => gaps(a) - gaps(b) || (a[0] as number) - (b[0] as number));
}

async function windowsOf(
  row: readonly LaidLeaf[],
  { height }: Panel,
  across: number,
  meter: JointMeter | null,
  control: Control,
): Promise<readonly Spot[] | null> {
  if (meter) return (await bestWindows(row, height, across, meter, control))?.spots ?? null;
  const spots = row.map((laid) => firstFit(laid.usable, height, across));
  return spots.every((spot) => spot !== null) ? spots : null;
}

const windowAt = ({ origin }: Usable, [u, v]: Spot, along: number, across: number): UsedLeaf['window'] =>
  rectangle<'face'>(origin[0] + u, origin[1] + v, origin[0] + u + along, origin[1] + v + across);

function laidOut(
  row: readonly LaidLeaf[],
  spots: readonly Spot[],
  { height }: Panel,
  across: number,
  stack: readonly Stack[],
  meter: JointMeter | null,
): Face {
  const used = row.map(({ leaf, flip, usable: of }, k) => ({
    leaf: (stack[leaf] as Stack).leaf.id,
    flip,
    window: windowAt(of, spots[k] as Spot, height, across),
  }));
  const blends = row.slice(1).map((next, k) => {
    const here = jointSide(row[k] as LaidLeaf, spots[k] as Spot, height, across, true);
    return meter?.blend(here, jointSide(next, spots[k + 1] as Spot, height, across, false)) ?? null;
  });
  const known = blends.filter((blend) => blend !== null);
  return { row, used, blend: known.length > 0 && known.length === blends.length ? Math.min(...known) : null };
}

/** As many leaves for the back as the face has, from those that are left. */
function backOf(panel: Panel, count: number, stack: readonly Stack[], left: Set<number>): UsedLeaf[] | string {
  const across = panel.width / count;
  const able = [...left].flatMap((k) => {
    const { leaf, back } = stack[k] as Stack;
    const spot = firstFit(back, panel.height, across);
    return spot
      ? [{ k, used: { leaf: leaf.id, flip: 'none' as const, window: windowAt(back, spot, panel.height, across) } }]
      : [];
  });
  if (able.length < count)
    return `Its face can be had, but its back wants ${plural(count)} and ${able.length} will do: a panel with one veneered face warps.`;
  const taken = able.slice(0, count);
  for (const { k } of taken) left.delete(k);
  return taken.map(({ used }) => used);
}

const plural = (n: number): string => (n === 1 ? '1 leaf' : `${n} leaves`);

function whyShort(panel: Panel, stack: readonly Stack[], left: ReadonlySet<number>, counts: readonly number[]): string {
  if (left.size === 0) return `No leaf is left of the ${stack.length}.`;
  const able = (count: number) =>
    [...left].filter((k) => firstFit((stack[k] as Stack).face, panel.height, panel.width / count) !== null).length;
  // The count that comes nearest to what is there is the one to talk about.
  const [best] = counts
    .map((count) => ({ count, have: able(count) }))
    .sort((a, b) => a.count - a.have - (b.count - b.have) || b.have - a.have) as [{ count: number; have: number }];
  const window = `${mm(panel.height)} by ${mm(panel.width / best.count)}`;
  return best.have >= best.count
    ? `${plural(best.count)} would do, but their sound windows of ${window} do not lie where the leaves match.`
    : `It wants ${plural(best.count)} with a sound window of ${window}, and ${best.have} of the ${left.size} that are left have one.`;
}
