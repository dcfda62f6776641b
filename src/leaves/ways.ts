import { InputProblem } from '../units';
import { sayMm, um } from './micrometres';
import { refuseTooMany } from './too-many';
import { sawnFrom, sawnFromBoth, sawnHalved, type TwoFaced } from './ways-count';

/** From where the saw works through a board's thickness. */
const STARTS = ['one face', 'both faces', 'halved'] as const;

/** A way of working. */
export interface Way {
  /** From the outer face on; from both faces in turn towards the middle; sawn in two first, then each half from its fresh face. */
  readonly start: (typeof STARTS)[number];
  /** The board's sawn face is dressed between one cut and the next, so that every leaf has one planed face. */
  readonly dressed: boolean;
  /** The last piece is stuck to a carrier board, its back planed first: nothing is left to be held. */
  readonly carrier: boolean;
}

/** The usual way, and the one that the `leaves` command counts. */
export const USUAL_WAY: Way = { start: 'one face', dressed: true, carrier: false };

/** Every way, the usual one first. */
export const WAYS: readonly Way[] = [false, true].flatMap((carrier) =>
  [true, false].flatMap((dressed) => STARTS.map((start) => ({ start, dressed, carrier }))),
);

/** A flat board's thickness and what the saw, the planer and the hand take of it, mm. */
export interface Saw {
  readonly thickness: number;
  /** As sawn. */
  readonly leaf: number;
  readonly kerf: number;
  readonly dressing: number;
  /** Planed once off the outer face; off the back where leaves come from it too, or where it is stuck to a carrier. */
  readonly faceAllowance: number;
  readonly backAllowance: number;
  /** Least that must be left to hold after the last cut. */
  readonly lastPiece: number;
}

/** A layer of the board, mm from its outer face as it was. Together they are the whole thickness, without a gap. */
export interface Slice {
  readonly what: 'outer face' | 'back' | 'leaf' | 'kerf' | 'dressing' | 'rest';
  readonly from: number;
  readonly to: number;
}

/** One cut, in the order of work. */
export interface ResawCut {
  readonly number: number;
  /** The leaf that it frees, counted from the outer face; null for the cut that halves the board. */
  readonly leaf: number | null;
  /** What is against the fence or away from it: the board, or one of its halves. */
  readonly of: 'board' | 'outer half' | 'other half';
  /** The face that the leaf comes off. */
  readonly face: 'outer' | 'back' | 'fresh';
  /** Dressed off that face just before, mm. The outer face and the back are planed before anything is sawn. */
  readonly dressed: number;
  /** Where the kerf begins, mm from the outer face as it was; it ends a kerf further in. */
  readonly at: number;
  /** Thickness of what is left after the cut: where the fence stands with the board against it. */
  readonly stays: number;
}

/** A board sawn by one way of working. */
export interface Resawn {
  readonly way: Way;
  readonly leaves: number;
  /** Thickness of each piece that is left over and is no leaf. */
  readonly rests: readonly number[];
  readonly slices: readonly Slice[];
  readonly cuts: readonly ResawCut[];
}

/** A layer before its place is known, and at its place, micrometres. */
type Layer = readonly [what: Slice['what'], thick: number];
type Placed = Slice;

/** The board in whole micrometres, as the way of working takes it. @throws InputProblem where there is no leaf, more planing than board, or more leaves than any board gives */
function taken(saw: Saw, way: Way): TwoFaced {
  const thick = {
    thickness: um(saw.thickness),
    face: um(saw.faceAllowance),
    back: um(saw.backAllowance),
    leaf: um(saw.leaf),
    kerf: um(saw.kerf),
    dressing: way.dressed ? um(saw.dressing) : 0,
    lastPiece: way.carrier ? 0 : um(saw.lastPiece),
  };
  if (thick.leaf <= 0)
    throw new InputProblem('The leaf has no thickness.', '/leaf', 'Give it as sawn, in mm, at least 0.001.');
  refuseTooMany(thick.thickness, thick.leaf, thick.kerf, '/thickness');
  const planed = thick.face + (way.carrier ? thick.back : 0);
  if (planed > thick.thickness) {
    throw new InputProblem(
      `Planing its faces takes ${sayMm(planed / 1000)} of a board that is ${sayMm(thick.thickness / 1000)} thick.`,
      '/faceAllowance',
      'Give what planing takes off the outer face and the back, in mm, or a thicker board.',
    );
  }
  return thick;
}

/** Without the back that goes onto the carrier, which is planed before anything is sawn. */
const onCarrier = (thick: TwoFaced, way: Way): TwoFaced =>
  way.carrier ? { ...thick, thickness: thick.thickness - thick.back } : thick;

/** How many leaves a way of working gives, without the cuts. @throws InputProblem as `resawn` does */
export function leavesBy(saw: Saw, way: Way): number {
  const thick = taken(saw, way);
  switch (way.start) {
    case 'one face': {
      const { cuts, restIsLeaf } = sawnFrom(onCarrier(thick, way));
      return cuts + Number(restIsLeaf);
    }
    case 'both faces': {
      const { outer, inner, restIsLeaf } = bothOf(thick, way);
      return outer + inner + Number(restIsLeaf);
    }
    case 'halved': {
      const [one, two] = sawnHalved(onCarrier(thick, way))?.leaves ?? [0, 0];
      return one + two;
    }
  }
}

/** From both faces the back is planed anyway; on a carrier, even where only one cut is made. */
const bothOf = (thick: TwoFaced, way: Way) => sawnFromBoth(way.carrier ? { ...onCarrier(thick, way), back: 0 } : thick);

/**
 * A board sawn by a way of working: every layer of its thickness, which together are the thickness to the micrometre, and every cut in the
 * order of work.
 * @throws InputProblem when planing takes more than the board, or the leaf has no thickness
 */
export function resawn(saw: Saw, way: Way): Resawn {
  const thick = taken(saw, way);
  switch (way.start) {
    case 'one face':
      return fromOneFace(thick, way);
    case 'both faces':
      return fromBothFaces(thick, way);
    case 'halved':
      return fromTheMiddle(thick, way);
  }
}

/** Leaves off one face: leaf and kerf, with dressing in between. */
const offFace = ({ leaf, kerf, dressing }: TwoFaced, cuts: number): Layer[] =>
  Array.from({ length: cuts }, (_, i): Layer[] => [
    ...(i > 0 ? ([['dressing', dressing]] as const) : []),
    ['leaf', leaf],
    ['kerf', kerf],
  ]).flat();

/** What is left: the last leaf, dressed on the face that was sawn, or a rest. */
const leftOver = ({ dressing }: TwoFaced, rest: number, isLeaf: boolean, sawn: boolean): Layer[] => {
  if (!isLeaf) return [['rest', rest]];
  const planed = sawn ? dressing : 0;
  return [
    ['dressing', planed],
    ['leaf', rest - planed],
  ];
};

const backOn = ({ back }: TwoFaced, way: Way): Layer[] => (way.carrier ? [['back', back]] : []);

function fromOneFace(thick: TwoFaced, way: Way): Resawn {
  const { cuts, rest, restIsLeaf } = sawnFrom(onCarrier(thick, way));
  const layers: Layer[] = [
    ['outer face', thick.face],
    ...offFace(thick, cuts),
    ...leftOver(thick, rest, restIsLeaf, cuts > 0),
    ...backOn(thick, way),
  ];
  const order = Array.from({ length: cuts }, (_, i): Order => ({ kerf: i, leaf: i, of: 'board', face: 'outer' }));
  return laidOut(thick, way, layers, order);
}

function fromBothFaces(thick: TwoFaced, way: Way): Resawn {
  const { outer, inner, rest, restIsLeaf } = bothOf(thick, way);
  const cuts = outer + inner;
  const layers: Layer[] = [
    ['outer face', thick.face],
    ...offFace(thick, outer),
    ...leftOver(thick, rest, restIsLeaf, cuts > 0),
    ...offFace(thick, inner).reverse(),
    ...(inner > 0 || way.carrier ? ([['back', thick.back]] as const) : []),
  ];
  const leaves = cuts + Number(restIsLeaf);
  const order = Array.from({ length: cuts }, (_, i): Order => {
    const turn = i >> 1;
    return i % 2 === 0
      ? { kerf: turn, leaf: turn, of: 'board', face: 'outer' }
      : { kerf: cuts - 1 - turn, leaf: leaves - 1 - turn, of: 'board', face: 'back' };
  });
  return laidOut(thick, way, layers, order);
}

function fromTheMiddle(thick: TwoFaced, way: Way): Resawn {
  const halved = sawnHalved(onCarrier(thick, way));
  if (!halved) {
    const rest = thick.thickness - thick.face - (way.carrier ? thick.back : 0);
    return laidOut(thick, way, [['outer face', thick.face], ['rest', rest], ...backOn(thick, way)], []);
  }
  const { leaves, halves, restsAreLeaves } = halved;
  const cutsOf = (half: 0 | 1): number => leaves[half] - Number(restsAreLeaves);
  /** From the fresh face outwards. */
  const half = (which: 0 | 1): Layer[] => {
    const layers: Layer[] = [['dressing', thick.dressing], ...offFace(thick, cutsOf(which))];
    const rest = halves[which] - layers.reduce((sum, [, mm]) => sum + mm, 0);
    return [...layers, ...leftOver(thick, rest, restsAreLeaves, cutsOf(which) > 0)];
  };
  const layers: Layer[] = [
    ['outer face', thick.face],
    ...half(0).reverse(),
    ['kerf', thick.kerf],
    ...half(1),
    ...backOn(thick, way),
  ];
  const middle = cutsOf(0);
  const order: Order[] = [
    { kerf: middle, leaf: null, of: 'board', face: 'outer' },
    ...Array.from(
      { length: cutsOf(0) },
      (_, i): Order => ({ kerf: middle - 1 - i, leaf: leaves[0] - 1 - i, of: 'outer half', face: 'fresh' }),
    ),
    ...Array.from(
      { length: cutsOf(1) },
      (_, i): Order => ({ kerf: middle + 1 + i, leaf: leaves[0] + i, of: 'other half', face: 'fresh' }),
    ),
  ];
  return laidOut(thick, way, layers, order);
}

/** A cut by the places, from the outer face, of its kerf among the kerfs and its leaf among the leaves. */
interface Order {
  readonly kerf: number;
  readonly leaf: number | null;
  readonly of: ResawCut['of'];
  readonly face: ResawCut['face'];
}

function laidOut(thick: TwoFaced, way: Way, layers: readonly Layer[], order: readonly Order[]): Resawn {
  let at = 0;
  const placed = layers.map(([what, deep]): Placed => {
    const from = at;
    at += deep;
    return { what, from, to: at };
  });
  const leaves = placed.filter(({ what }) => what === 'leaf').length;
  return {
    way,
    leaves,
    rests: placed.filter(({ what }) => what === 'rest').map(({ from, to }) => (to - from) / 1000),
    slices: placed
      .filter(({ from, to }) => to > from)
      .map(({ what, from, to }) => ({ what, from: from / 1000, to: to / 1000 })),
    cuts: cutsInOrder(thick, placed, order),
  };
}

/** Follows each piece of wood through its cuts: what is dressed off it before, and how thick it is after. */
function cutsInOrder({ dressing }: TwoFaced, placed: readonly Placed[], order: readonly Order[]): ResawCut[] {
  const kerfs = placed.filter(({ what }) => what === 'kerf');
  const low = placed.find(({ what }) => what === 'outer face')?.to ?? 0;
  const high = placed.find(({ what }) => what === 'back')?.from ?? (placed.at(-1) as Placed).to;
  const whole = { low, high };
  const pieces = { board: whole, 'outer half': whole, 'other half': whole };
  const sawn = new Set<ResawCut['face']>();
  return order.map(({ kerf, leaf, of, face }, i) => {
    const { from, to } = kerfs[kerf] as Placed;
    const dressed = face === 'fresh' || sawn.has(face) ? dressing : 0;
    sawn.add(face);
    if (leaf === null) {
      pieces['outer half'] = { low, high: from };
      pieces['other half'] = { low: to, high };
    } else if (face === 'back' || of === 'outer half') pieces[of] = { ...pieces[of], high: from };
    else pieces[of] = { ...pieces[of], low: to };
    const left = leaf === null ? pieces['other half'] : pieces[of];
    return {
      number: i + 1,
      leaf: leaf === null ? null : leaf + 1,
      of,
      face,
      dressed: dressed / 1000,
      at: from / 1000,
      stays: (left.high - left.low) / 1000,
    };
  });
}
