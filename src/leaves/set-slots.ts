import {
  type Affine,
  affine,
  apply,
  applyAll,
  applyToRegions,
  type Bounds,
  bounds,
  centroid,
  compose,
  invert,
  type Point,
  type Polygon,
  type Region,
  type Segment,
  union,
} from '../geometry';
import type { CellJoint, FaceName, SetJoint } from '../job';
import type { PanelSizes } from './frame-panel';
import { soundPart } from './frame-panel';
import type { Carry } from './match-patterns';
import type { Front } from './set-types';
import { type Strip, stripsOf } from './window-strips';

/** A front with its panel's sizes. */
export interface SizedFront extends Front {
  readonly sizes: PanelSizes;
}

/** One cell of one front, cut from a slot. */
export interface Piece {
  readonly front: string;
  /** Its place among the front's cells. */
  readonly cell: number;
  readonly polygon: Polygon<'panel'>;
  /** From the slot's frame to the panel. */
  readonly toPanel: Affine<'face', 'panel'>;
}

/**
 * What one leaf gives to a sheet: the pieces cut out of it, which stand fast to each other, in a frame of their own (as the leaf's, begun anywhere). The search
 * only moves this frame over the leaf.
 */
export interface Slot {
  readonly pieces: readonly Piece[];
  /** The face that shows, and how it lies against the first of the match. */
  readonly face: FaceName;
  readonly flip: 'none' | 'over' | 'end' | 'over and end';
  /** What must be sound, and what must be wood. */
  readonly sound: readonly Strip[];
  readonly wood: readonly Strip[];
  /** Least and most along and across the grain, wood to be jointed away among it. */
  readonly box: Bounds;
  /** Alike for slots that ask the same of a leaf. */
  readonly key: string;
}

/** Two slots that meet, each with its own line in its own frame, in one order from end to end. */
export interface SlotJoint {
  readonly slots: readonly [number, number];
  readonly lines: readonly [Segment<'face'>, Segment<'face'>];
  /** Whether the wood kept lies to the left of each line. */
  readonly left: readonly [boolean, boolean];
  /** Its length as a share of the sheet's longest, by which it counts; 0 where nothing is to match. */
  readonly weight: number;
  /** Alike for joints that are measured alike. */
  readonly key: string;
  /** What it is reported as: a joint of a front, or one over a gap. */
  readonly of:
    | { readonly front: string; readonly joint: Omit<CellJoint, 'blend'> }
    | { readonly gap: Omit<SetJoint, 'blend'> };
}

/** Slots and joints before their sheet is whole. */
export type OpenSlot = Omit<Slot, 'key' | 'box'>;
export type OpenJoint = Omit<SlotJoint, 'key'>;
export interface OpenSheet extends Omit<Sheet, 'key' | 'slots' | 'joints'> {
  readonly slots: readonly OpenSlot[];
  readonly joints: readonly OpenJoint[];
}

/** Fronts that are cut from the same run of leaves, one slot a leaf, in sequence. */
export interface Sheet {
  readonly fronts: readonly SizedFront[];
  readonly slots: readonly Slot[];
  readonly joints: readonly SlotJoint[];
  /** Links over gaps within one slot, where the wood goes on. */
  readonly links: readonly Omit<SetJoint, 'blend'>[];
  /** Whether its leaves are to lie in sawing order. */
  readonly ordered: boolean;
  /** Slots whose window is to stand on the middle of the leaf's figure. */
  readonly centred: readonly number[];
  readonly flitch: string | null;
  /** Alike for sheets that differ in nothing but their place. */
  readonly key: string;
}

/** How the first leaf of a match lies: its first end up or down in the panel, and which of its faces shows. */
export interface Base {
  readonly face: FaceName;
  readonly lean: number;
}

/** The first leaf laid under a panel: the grain's +x runs up, leaned clockwise. */
export function baseMap({ face, lean }: Base): Affine<'face', 'panel'> {
  const t = (lean * Math.PI) / 180;
  const [c, s] = [Math.cos(t), Math.sin(t)];
  const up: Affine<'face', 'panel'> = face === 'top' ? affine(0, -1, 1, 0, 0, 0) : affine(0, -1, -1, 0, 0, 0);
  return compose(affine<'panel', 'panel'>(c, s, -s, c, 0, 0), up);
}

export const mirrors = ({ m: [a, b, c, d] }: Carry): boolean => a * d - b * c < 0;

/** How a carried leaf lies against the first. A turn by another angle than half is no flip. */
export function flipOf(carry: Carry): Slot['flip'] {
  const [a, b] = carry.m;
  const turned = mirrors(carry) ? a > 0.5 && Math.abs(b) < 0.5 : a < -0.5 && Math.abs(b) < 0.5;
  if (mirrors(carry)) return turned ? 'over and end' : 'over';
  return turned ? 'end' : 'none';
}

/** A piece before it is put into its slot. */
export interface Cut {
  readonly front: SizedFront;
  readonly cell: number;
  readonly polygon: Polygon<'panel'>;
  readonly toPanel: Affine<'face', 'panel'>;
  /** Its edges that are jointed, on the panel. */
  readonly jointed: readonly Segment<'panel'>[];
}

/** Pieces of one leaf as a slot. @param jointing planed off each jointed edge, mm */
export function slotOf(cuts: readonly Cut[], face: FaceName, flip: Slot['flip'], jointing: number): OpenSlot {
  const sound: Region<'face'>[] = [];
  const wood: Region<'face'>[] = [];
  for (const { front, polygon, toPanel, jointed } of cuts) {
    const back = invert(toPanel);
    sound.push(...applyToRegions(back, soundPart(polygon, front.sizes, front.door.covered)));
    wood.push(...applyToRegions(back, grown(polygon, jointed, jointing)));
  }
  return {
    pieces: cuts.map(({ front, cell, polygon, toPanel }) => ({ front: front.id, cell, polygon, toPanel })),
    face,
    flip,
    sound: stripsOf(sound),
    wood: stripsOf(wood),
  };
}

/** A cell and what is planed off its jointed edges. */
function grown(polygon: Polygon<'panel'>, jointed: readonly Segment<'panel'>[], by: number): Region<'panel'>[] {
  const whole: Region<'panel'> = { outer: polygon, holes: [] };
  if (by === 0 || jointed.length === 0) return [whole];
  const [mx, my] = centroid(polygon);
  const beside = jointed.map(([p, q]): Region<'panel'> => {
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
    let [nx, ny] = [(q[1] - p[1]) / length, (p[0] - q[0]) / length];
    if ((mx - p[0]) * nx + (my - p[1]) * ny > 0) [nx, ny] = [-nx, -ny];
    const out = (r: Point<'panel'>): Point<'panel'> => [r[0] + nx * by, r[1] + ny * by];
    return { outer: [p, q, out(q), out(p)], holes: [] };
  });
  return union([whole, ...beside]);
}

/** A line of a panel as a slot sees it, and whether the piece lies to its left there. */
export function lineIn(piece: Pick<Piece, 'polygon' | 'toPanel'>, line: Segment<'panel'>) {
  const back = invert(piece.toPanel);
  const [p, q] = [apply(back, line[0]), apply(back, line[1])];
  const [x, y] = apply(back, centroid(piece.polygon));
  const left = (q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0]) > 0;
  return { line: [p, q] as Segment<'face'>, left };
}

/** Along the grain, across it, or at an angle: by how a line lies in its leaf. */
export function kindOf([p, q]: Segment<'face'>): CellJoint['kind'] {
  const degrees = (Math.atan2(Math.abs(q[1] - p[1]), Math.abs(q[0] - p[0])) * 180) / Math.PI;
  return degrees < 15 ? 'side' : degrees > 75 ? 'end' : 'slant';
}

/** Least and most of rectangles along and across the grain. */
export const boxOf = (strips: readonly Strip[]): Bounds =>
  bounds(
    strips.flatMap(({ u, v, along, across }): Point<'face'>[] => [
      [u, v],
      [u + along, v + across],
    ]),
  );

/** A piece's window once its slot is laid at a place of the leaf. */
export const windowOf = ({ polygon, toPanel }: Piece, [u, v]: Point<'face'>): Polygon<'face'> =>
  applyAll(invert(toPanel), polygon).map(([x, y]): Point<'face'> => [x + u, y + v]);

/** What carries the leaf's own frame to the panel once its slot is laid. */
export const toPanelAt = ({ toPanel }: Piece, [u, v]: Point<'face'>): Affine<'face', 'panel'> =>
  compose(toPanel, affine<'face', 'face'>(1, 0, 0, 1, -u, -v));

/** The longest that a sheet takes of a leaf, mm. */
export const alongOf = ({ slots }: Sheet): number => Math.max(...slots.map(({ box }) => box.maxX - box.minX));
