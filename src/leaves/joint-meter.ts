import {
  compareEdges,
  type Edge,
  type FaceFeatures,
  faceFeatures,
  type JointLine,
  readEdge,
  scoreJoint,
  unlikeness,
} from '../grain';
import { type FaceFigure, withMiddle } from './drift';
import type { Drift } from './drift-types';
import { type EdgeOfWindow, type Facing, facingSides } from './facing';
import type { Leaf } from './usable';

/** One edge of a window as it meets a joint: along the grain of its leaf at height y, from the joint's first end to its last. */
export interface Side extends EdgeOfWindow {
  /** Place of the leaf among the leaf photos. */
  readonly leaf: number;
}

/** How well two edges meet. */
export interface JointMeter {
  /** 1 in the mean over uncut wood; less is better. */
  cost(a: Side, b: Side): number;
  /** Share of uncut wood that matches no better (DESIGN 5.3). */
  blend(a: Side, b: Side): number;
  /** How the wood along a side goes on in another leaf, their drift allowed for; null where their drift is not known. */
  facing(a: Side, leaf: number): Facing | null;
}

/**
 * Reads the figure of all leaves once.
 * @param kerf of the saw, mm: how much wood is gone between two facing sides
 * @param drift between two leaves, by their places among the leaves, where it was measured
 */
export function jointMeter(
  leaves: readonly Leaf[],
  kerf: number,
  drift: (from: number, to: number) => Drift | null = () => null,
): JointMeter {
  const features = faceFeatures(
    leaves.map(({ picture, outline, defects }) => ({ picture, outline: { outer: outline, holes: [] }, defects })),
    { kerf },
  );
  const cache = new Map<string, Edge>();
  const edge = ({ leaf, from, to, y, keepsMore }: Side) => {
    const key = `${leaf} ${from} ${to} ${y} ${keepsMore}`;
    let e = cache.get(key);
    if (!e) {
      e = readEdge(features[leaf] as FaceFeatures, from, y, to, y, keepsMore === to > from);
      cache.set(key, e);
    }
    return e;
  };
  const parts = { look: 0, known: 0 };
  const cost = (a: Side, b: Side) =>
    unlikeness(compareEdges(edge(a), edge(b), (features[0] as FaceFeatures).kin, parts));
  const blend = (a: Side, b: Side) =>
    scoreJoint(features[a.leaf] as FaceFeatures, lineOf(a), features[b.leaf] as FaceFeatures, lineOf(b)).blend;
  const figures = new Map<number, FaceFigure>();
  const figure = (leaf: number): FaceFigure => {
    const known = figures.get(leaf) ?? withMiddle(features[leaf] as FaceFeatures, (leaves[leaf] as Leaf).outline);
    figures.set(leaf, known);
    return known;
  };
  const pairs = new Map<string, (side: Side) => Facing>();
  const facing = (a: Side, leaf: number): Facing | null => {
    const key = `${a.leaf} ${leaf}`;
    let pair = pairs.get(key);
    const known = pair ? null : drift(a.leaf, leaf);
    if (!pair && known) {
      pair = facingSides(figure(a.leaf), figure(leaf), known);
      pairs.set(key, pair);
    }
    return pair?.(a) ?? null;
  };
  return { cost, blend, facing };
}

const lineOf = ({ from, to, y, keepsMore }: Side): JointLine => ({
  line: [
    [from, y],
    [to, y],
  ],
  keeps: keepsMore === to > from ? 'left' : 'right',
});
