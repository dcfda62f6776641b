import type { Point } from '../geometry';
import { type Figure, figuresOf } from '../grain';
import type { FaceName } from '../job';
import { type Control, pause } from '../search';
import { InputProblem } from '../units';
import { figureAxis } from './panel-centre';
import { SetMeter } from './set-meter';
import type { Slot } from './set-slots';
import type { BenchLeaf, BenchRules, LeafFace } from './set-types';
import { firstFit, type Usable, usable } from './usable';
import type { Strip } from './window-strips';

/** A leaf with what may be cut out of it. */
export interface ReadyLeaf {
  readonly leaf: BenchLeaf;
  /** `board leaf`, by which it is left out. */
  readonly name: string;
  readonly origin: Point<'face'>;
  readonly length: number;
  readonly width: number;
  /** Good wood of each face, and what is wood on both. */
  readonly sound: Readonly<Record<FaceName, Usable>>;
  readonly wood: readonly Usable[];
  /** Share of its area that no face may show: the poorer leaf backs. */
  readonly poor: number;
  /** Where its figure's middle lies across it, mm in its frame; null where none can be told. */
  readonly axis: () => number | null;
  /** The lines of its figure on the side that shows, or on the other where only that was photographed; null where neither was. */
  readonly figure: (shown: FaceName) => Figure | null;
}

/** Leaves read once for any number of sets. */
export interface Bench {
  /** By board, and on it in sawing order. */
  readonly leaves: readonly ReadyLeaf[];
  readonly meter: SetMeter;
  readonly rules: BenchRules;
}

/**
 * Reads leaves: where their wood is good, and how it looks. What looks are asked for is read when it is first wanted.
 * @throws InputProblem where two leaves of a board stand at one place
 * @throws Cancelled
 */
export async function prepareBench(leaves: readonly BenchLeaf[], rules: BenchRules, control: Control): Promise<Bench> {
  const order = [...leaves].sort((a, b) => (a.board < b.board ? -1 : a.board > b.board ? 1 : a.place - b.place));
  order.forEach((leaf, i) => {
    const before = order[i - 1];
    if (before?.board !== leaf.board || before.place !== leaf.place) return;
    throw new InputProblem(
      `Leaves ${before.leaf} and ${leaf.leaf} are both said to be number ${leaf.place} of their board.`,
      `/boards/${leaf.board}/leaves/${leaf.leaf}/place`,
      'Number the leaves in sawing order from the outer face, each number once.',
    );
  });
  const ready: ReadyLeaf[] = [];
  for (const [i, leaf] of order.entries()) {
    await pause(control, i / order.length, 'Looking for good wood on the leaves');
    ready.push(readyLeaf(leaf));
  }
  return { leaves: ready, meter: new SetMeter(order, rules.kerf), rules };
}

function readyLeaf(leaf: BenchLeaf): ReadyLeaf {
  const { top, bottom } = leaf;
  const own = usable(top, 'face');
  const far = bottom ? usable(bottom, 'face') : own;
  const wood = [usable(top, 'back'), ...(bottom ? [usable(bottom, 'back')] : [])];
  let axis: number | null | undefined;
  const figures = new Map<LeafFace, Figure | null>();
  return {
    leaf,
    name: `${leaf.board} ${leaf.leaf}`,
    origin: own.origin,
    length: own.length,
    width: own.width,
    sound: { top: own, bottom: far },
    wood,
    poor: poorShare(own),
    axis: () => {
      const pictured = top.picture ? top : bottom;
      if (axis === undefined) axis = pictured?.picture ? figureAxis(pictured.picture, pictured.outline) : null;
      return axis;
    },
    figure: (shown) => {
      const face = [...(shown === 'bottom' ? [bottom, top] : [top, bottom])].find((one) => one?.picture);
      if (!face) return null;
      const figure = figures.get(face) ?? figureOf(face);
      figures.set(face, figure);
      return figure;
    },
  };
}

function figureOf({ picture, outline, defects }: LeafFace): Figure | null {
  return picture ? (figuresOf([{ picture, outline: { outer: outline, holes: [] }, defects }])[0] ?? null) : null;
}

/** Share of squares of a leaf that are not good, on a grid of about 10 mm. */
function poorShare(face: Usable): number {
  const [columns, rows] = [Math.max(1, Math.floor(face.length / 10)), Math.max(1, Math.floor(face.width / 10))];
  let bad = 0;
  for (let c = 0; c < columns; c++) for (let r = 0; r < rows; r++) if (!face.fits(c * 10, r * 10, 10, 10)) bad++;
  return bad / (columns * rows);
}

const inside = (of: Usable, { u, v, along, across }: Strip, [x, y]: Point<'face'>): boolean =>
  of.fits(x + u - of.origin[0], y + v - of.origin[1], along, across);

/** Whether a slot may lie with its frame begun at a place of a leaf: what is seen is good there, and all of it wood. */
export function slotFits({ sound, wood }: ReadyLeaf, slot: Slot, at: Point<'face'>): boolean {
  return (
    slot.sound.every((strip) => inside(sound[slot.face], strip, at)) &&
    wood.every((of) => slot.wood.every((strip) => inside(of, strip, at)))
  );
}

/** Where a plain rectangle lies on a leaf, as its wood alone wants it; null nowhere. */
export function woodFit(leaf: ReadyLeaf, along: number, across: number): Point<'face'> | null {
  const [first, other] = leaf.wood as [Usable, Usable | undefined];
  const spot = firstFit(first, along, across);
  if (!spot) return null;
  const at: Point<'face'> = [leaf.origin[0] + spot[0], leaf.origin[1] + spot[1]];
  return other && !inside(other, { u: 0, v: 0, along, across }, at) ? null : at;
}

/** Widest plain rectangle of a length that a leaf's wood gives, to 1 mm; 0 where none. */
export function breadthOf(leaf: ReadyLeaf, along: number): number {
  let [low, high] = [0, Math.floor(leaf.width)];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (woodFit(leaf, along, middle)) low = middle;
    else high = middle - 1;
  }
  return low;
}
