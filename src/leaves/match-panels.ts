import { bounds } from '../geometry';
import { type Door, defaultDoor, type PanelSet } from '../job';
import { type Control, stage } from '../search';
import { InputProblem } from '../units';
import { backsOf } from './backer';
import { woodLeftBy } from './exchange-moves';
import type { LeavesOutput, Panel, PanelOutput, UsedLeaf } from './io';
import { prepareBench } from './set-bench';
import { frontsOf } from './set-fronts';
import { layOutSet } from './set-layout';
import { backMiss } from './set-misses';
import { sized } from './set-sheets';
import type { BenchLeaf, Front } from './set-types';
import type { Leaf } from './usable';

/** What a layout of panels gives: those that can be had, in the order asked, and those that cannot. */
export interface Matched {
  panels: PanelOutput[];
  short: NonNullable<LeavesOutput['short']>;
}

/** All leaves are of one board; what it is called is seen nowhere. */
const BOARD = 'board';
/** A shaving off every edge that is jointed, mm: nearer to the leaf's edge than 2 mm the first of the wood is not read, and any two leaves look alike. */
const JOINTING = 1;
/** Panels that found no leaves behind those before them are tried again on what is left, so many times in all. */
const TRIES = 3;

/**
 * Panels of matched leaves (COMMANDS `leaves`): a set without an elevation, laid out as doors are (`layOutSet`), every leaf whole in one panel, its first leaf
 * as photographed. Panels stand in sawing order as they are asked; one that finds no leaves behind those before it may take earlier ones.
 * Then each face gets its back from the poorer leaves that are left.
 * @param leaves in sawing order, the grain along x
 * @param kerf of the saw, mm: what blend is held against
 * @throws InputProblem where two leaves or two panels have one name
 * @throws Cancelled
 */
export async function matchPanels(
  leaves: readonly Leaf[],
  panels: readonly Panel[],
  kerf: number,
  control: Control,
): Promise<Matched> {
  refuseTwice(leaves, '/leafPhotos', 'leaves');
  refuseTwice(panels, '/panels', 'panels');
  const stack = leaves.map(
    (leaf, i): BenchLeaf => ({ board: BOARD, leaf: leaf.id, place: i + 1, top: leaf, bottom: null }),
  );
  // Every leaf goes whole into one panel: the saw between two lengths is as wide as the longest.
  const whole = Math.max(1, ...leaves.map(({ outline }) => lengthOf(outline)));
  const bench = await prepareBench(
    stack,
    { kerf, crosscut: whole, jointing: JOINTING, loose: null },
    stage(control, 0, 0.1),
  );
  const wanted = frontsOf(panels.map(doorOf));
  const faces: Record<string, PanelSet['fronts'][string]> = {};
  const reasons = new Map<string, string>();
  let open: readonly Front[] = wanted;
  for (let i = 0; i < TRIES && open.length > 0; i++) {
    const used = new Set(Object.values(faces).flatMap(({ cells }) => cells.map(({ leaf }) => `${BOARD} ${leaf}`)));
    if (i > 0 && used.size === leaves.length) break;
    const request = { id: 'panels', name: 'Panels', fronts: open, without: [...used] };
    const part = stage(control, 0.1 + (0.8 * i) / TRIES, 0.1 + (0.8 * (i + 1)) / TRIES);
    const set = await layOutSet(request, bench, part, { begin: ['top'] });
    Object.assign(faces, set.fronts);
    const placed = Object.keys(set.fronts).length > 0;
    // What was said when all leaves were there stands as long as it is true.
    if (i === 0 || placed) for (const { front, reason, mend } of set.misses) reasons.set(front, `${reason} ${mend}`);
    if (!placed) break;
    open = open.filter(({ id }) => !faces[id]);
  }
  const made = wanted.flatMap((front) => (faces[front.id] ? [sized(front)] : []));
  const counts = new Map(made.map(({ id }) => [id, faces[id]?.cells.length ?? 1]));
  const backs = backsOf(made, counts, woodLeftBy(bench, { fronts: faces, without: [] }));
  const given: Matched = { panels: [], short: [] };
  for (const front of wanted) {
    const { id, door } = front;
    const face = faces[id];
    if (!face) {
      given.short.push({ id: door.name, reason: reasons.get(id) ?? '' });
      continue;
    }
    const back = (backs.cells.get(id) ?? []).map(usedLeaf);
    given.panels.push({ id: door.name, leaves: face.cells.map(usedLeaf), blend: face.blend, backer: back });
    const missed = backs.short.get(id);
    if (!missed) continue;
    const { reason, mend } = backMiss(sized(front), missed.want, missed.have);
    given.short.push({ id: door.name, reason: `${reason} ${mend}` });
  }
  control.progress(1);
  return given;
}

const lengthOf = (outline: Leaf['outline']): number => {
  const { minX, maxX } = bounds(outline);
  return maxX - minX;
};

/** A panel as a door that is veneered all over and pressed in its own size. */
const doorOf = ({ id, width, height, match, joints }: Panel, i: number): Door => ({
  ...defaultDoor(`panel-${i + 1}`),
  name: id,
  width,
  height,
  match,
  count: 1,
  trim: 0,
  backed: false,
  leaves: joints === undefined ? null : joints + 1,
});

const usedLeaf = ({ leaf, flip, window }: PanelSet['fronts'][string]['cells'][number]): UsedLeaf => ({
  leaf,
  // A side match turns a leaf over or end for end, never both.
  flip: flip === 'over and end' ? 'over' : flip,
  window,
});

function refuseTwice(of: readonly { readonly id: string }[], where: string, what: string): void {
  const seen = new Set<string>();
  for (const [i, { id }] of of.entries()) {
    if (seen.has(id))
      throw new InputProblem(`Two ${what} are called "${id}".`, `${where}/${i}/id`, 'Give each a name of its own.');
    seen.add(id);
  }
}
