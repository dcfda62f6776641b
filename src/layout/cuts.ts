import {
  applyAll,
  type Bounds,
  bounds,
  distance,
  intersection,
  invert,
  type Point,
  type Polygon,
  type Region,
  rectangle,
  type Segment,
} from '../geometry';
import type { Shop, Strip } from '../job';
import { isWood } from './rounding';
import { straightEnd } from './straight-end';
import { stripMap } from './strips';

/** A straight cut through a slab. Its kerf lies outside the piece that the cut frees, on the waste's side. */
export interface SawCut {
  readonly kind: 'crosscut' | 'rip' | 'joint' | 'trim';
  /** Rough cuts are made on the slab, fine ones on the flat blank. */
  readonly stage: 'rough' | 'fine';
  readonly line: Segment<'face'>;
  readonly kerf: number;
  /** What the saw turns to dust, before it is clipped to the wood. */
  readonly dust: Polygon<'face'>;
  /** Indices of the strips that the cut frees: one crosscut may end several that lie side by side. */
  readonly strips: readonly number[];
  /** It parts the strip from the next piece of one board, through which the grain goes on: all that lies between them is its kerf. */
  readonly parts?: true;
}

/** Which of the shop's saws makes a cut: by its name in the kerfs, and in what the shop calls them. */
export const sawOf = ({ kind, stage }: Pick<SawCut, 'kind' | 'stage'>): keyof Shop['kerf'] =>
  stage === 'fine' ? 'fine' : kind === 'crosscut' ? 'crosscut' : 'rip';

/** How far past its own blank a crosscut may run before it would cut into another. */
function crosscutReach(
  own: Bounds,
  x: readonly [number, number],
  outline: Bounds,
  others: readonly Polygon<'top'>[],
): readonly [number, number] {
  const free = (from: number, to: number): boolean => {
    const window: Region<'top'> = { outer: rectangle(x[0], from, x[1], to), holes: [] };
    return !others.some((other) => isWood(intersection([window], [{ outer: other, holes: [] }])));
  };
  const front = free(outline.minY, own.minY) ? outline.minY : own.minY;
  const back = free(own.maxY, outline.maxY) ? outline.maxY : own.maxY;
  return [front, back];
}

/** A blank ends where its finished piece does, mm. */
const FLUSH = 0.01;

/** How far it is along the strip to the next blank, before (-1) or after (1) this one; null where none stands so near. */
function nextAlong(own: Bounds, way: -1 | 1, others: readonly Polygon<'top'>[], near: number): number | null {
  for (const other of others.map((ring) => bounds(ring))) {
    const gap = way < 0 ? own.minX - other.maxX : other.minX - own.maxX;
    const beside = Math.min(own.maxY, other.maxY) - Math.max(own.minY, other.minY);
    if (gap > 0 && gap < near && beside > (own.maxY - own.minY) / 2) return gap;
  }
  return null;
}

/** Two cuts nearer than this at both ends, on the same side of their waste, are one, mm: no saw tells them apart. */
const ONE_CUT = 0.1;

function isSame(a: SawCut, b: SawCut): boolean {
  const [p, q] = [a.dust, b.dust];
  return p.every((corner, i) => distance(corner, q[i] as Point<'face'>) < ONE_CUT);
}

/** A live edge has no straight line: the rough and the finished piece have the same edge there. */
const isStraight = (rough: Polygon<'top'>, y: number): boolean => {
  // A straight edge has two corners on one y.
  return rough.filter((p) => Math.abs(p[1] - y) < 0.01).length >= 2;
};

/**
 * The cuts that free these pieces from one slab, in the order of the work: all crosscuts from one end to the other, then the rips
 * between them, then on the flat blank the joints and the trims.
 */
export function cutsOf(outline: Region<'face'>, pieces: readonly Strip[], shop: Pick<Shop, 'kerf'>): SawCut[] {
  const crosscuts: (SawCut & { readonly at: number })[] = [];
  const rips: SawCut[] = [];
  const fine: SawCut[] = [];
  pieces.forEach((piece, strip) => {
    const map = stripMap(piece);
    const toFace = invert(map);
    const rough = applyAll(map, piece.rough);
    const own = bounds(rough);
    const all = bounds(applyAll(map, outline.outer));
    const others = pieces.filter((_, i) => i !== strip).map((p) => applyAll(map, p.rough));
    const cut = (
      kind: SawCut['kind'],
      stage: SawCut['stage'],
      a: Point<'top'>,
      b: Point<'top'>,
      away: readonly [number, number],
    ): SawCut => {
      const kerf = shop.kerf[sawOf({ kind, stage })];
      const [dx, dy] = [away[0] * kerf, away[1] * kerf];
      const [from, to] = applyAll(toFace, [a, b]) as [Point<'face'>, Point<'face'>];
      const dust = applyAll(toFace, [a, b, [b[0] + dx, b[1] + dy], [a[0] + dx, a[1] + dy]] as Polygon<'top'>);
      return { kind, stage, line: [from, to], kerf, dust, strips: [strip] };
    };
    const finished = applyAll(map, piece.finished);
    const inner = bounds(finished);
    const near = 2 * shop.kerf.crosscut;
    const [before, after] = [
      inner.minX - own.minX < FLUSH ? nextAlong(own, -1, others, near) : null,
      own.maxX - inner.maxX < FLUSH ? nextAlong(own, 1, others, near) : null,
    ];
    for (const [x, away] of [
      [own.minX, -1],
      [own.maxX, 1],
    ] as const) {
      if ((away < 0 ? before : after) !== null) continue;
      const beyond: [number, number] = away < 0 ? [x - shop.kerf.crosscut, x] : [x, x + shop.kerf.crosscut];
      // At the very end of the slab there is nothing to cut off.
      if (away < 0 ? x - all.minX < 0.5 : all.maxX - x < 0.5) continue;
      const [front, back] = crosscutReach(own, beyond, all, others);
      const made = cut('crosscut', 'rough', [x, front], [x, back], [away, 0]);
      crosscuts.push({ ...made, at: Math.min(made.line[0][0], made.line[1][0]) });
    }
    for (const [y, away] of [
      [own.minY, -1],
      [own.maxY, 1],
    ] as const) {
      if (isStraight(rough, y) && (away < 0 ? y - all.minY > 0.5 : all.maxY - y > 0.5)) {
        rips.push(cut('rip', 'rough', [own.minX, y], [own.maxX, y], [0, away]));
      }
    }
    for (const [y, joint, away] of [
      [inner.minY, piece.jointFront, -1],
      [inner.maxY, piece.jointBack, 1],
    ] as const) {
      if (joint || isStraight(finished, y))
        fine.push(cut(joint ? 'joint' : 'trim', 'fine', [own.minX, y], [own.maxX, y], [0, away]));
    }
    const [first, last] = ([-1, 1] as const).map((side) => straightEnd(finished, side, [own.minY, own.maxY]));
    if (before === null && first) fine.push(cut('trim', 'fine', ...first.line, first.away));
    const wide = after === null ? 1 : after / shop.kerf.fine;
    if (last) {
      const end = cut('trim', 'fine', ...last.line, [wide * last.away[0], wide * last.away[1]]);
      fine.push(after === null ? end : { ...end, kerf: after, parts: true });
    }
  });
  crosscuts.sort((a, b) => a.at - b.at);
  const shared: SawCut[] = [];
  for (const { at: _, ...cut } of crosscuts) {
    const same = shared.findIndex((other) => isSame(other, cut));
    const whole = shared[same];
    if (whole) shared[same] = { ...whole, strips: [...whole.strips, ...cut.strips] };
    else shared.push(cut);
  }
  const joints = fine.filter(({ kind }) => kind === 'joint');
  return [...shared, ...rips, ...joints, ...fine.filter(({ kind }) => kind !== 'joint')];
}
