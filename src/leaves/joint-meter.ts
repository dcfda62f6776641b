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
import type { Leaf } from './usable';

/** One edge of a window as it meets a joint: along the grain of its leaf at height y, from the joint's first end to its last. */
export interface Side {
  /** Place of the leaf among the leaf photos. */
  readonly leaf: number;
  readonly from: number;
  readonly to: number;
  readonly y: number;
  /** Whether the window lies at more y. */
  readonly keepsMore: boolean;
}

/** How well two edges meet. */
export interface JointMeter {
  /** 1 in the mean over uncut wood; less is better. */
  cost(a: Side, b: Side): number;
  /** Share of uncut wood that matches no better (DESIGN 5.3). */
  blend(a: Side, b: Side): number;
}

/** Reads the figure of all leaves once. @param kerf of the saw, mm: how much wood is gone between two facing sides */
export function jointMeter(leaves: readonly Leaf[], kerf: number): JointMeter {
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
  return { cost, blend };
}

const lineOf = ({ from, to, y, keepsMore }: Side): JointLine => ({
  line: [
    [from, y],
    [to, y],
  ],
  keeps: keepsMore === to > from ? 'left' : 'right',
});
