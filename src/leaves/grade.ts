import { affine, apply, bounds, invert, type Point } from '../geometry';
import type { Cell, Grade, PanelSet, SetFront } from '../job';
import { isSideMatch } from './match-patterns';
import type { BenchLeaf, Front } from './set-types';

/** One line of the report of a set against a grade. */
export interface GradeLine {
  readonly what: string;
  /** Section of the Architectural Woodwork Standards, 1st ed. 2009. */
  readonly section: string;
  /** What the grade allows and what the set has, mm or a count; null where the grade sets no limit that we know, or the set has nothing of the kind. */
  readonly limit: number | null;
  readonly found: number | null;
  readonly unit: 'mm' | 'mm in 2440 mm' | 'fronts';
  /** Whether it holds; null where nothing is to hold. */
  readonly holds: boolean | null;
  /** Fronts that break it. */
  readonly fronts: readonly string[];
}

/** What the report is held against besides the set. */
export interface GradeAsked {
  readonly grade: Grade;
  /** How the leaves were cut: the least width of a leaf follows from it. */
  readonly cut: 'plain' | 'quarter';
  /** Finished thickness of a leaf, mm. */
  readonly leaf: number;
}

/** Panel-to-panel alignment of veneer (8-4.4.4.2.3); which value goes with which grade is from memory. */
const ALIGNMENT: Readonly<Record<Grade, number | null>> = { economy: null, custom: 6.4, premium: 3.2 };
/** Joints of blueprint-matched veneer out of plumb: 3/16 in in 96 in (8-7.2.2.1). */
const PLUMB = { most: 5, over: 2440 };
/** Grain lost at an end-matched joint, 1 1/2 in (8-7.2.3), and at a side-matched one, 1 in (8-7.2.4). */
const LOST = { end: 38, side: 25.4 };
/** Least width of a leaf in face grade AA, 6 in plain-sliced and 3 in quartered or rift; the outer ones may be less (p. 84). */
const LEAST: Readonly<Record<GradeAsked['cut'], number>> = { plain: 152, quarter: 76 };
/** Veneer thick enough not to let its core show, 1/50 in (8-4.2.11.4.2.6). */
const THICK = 0.5;
/** Widths that are equal, mm. */
const EQUAL = 0.5;

/**
 * A laid set held against the limits of a grade: alignment from front to front, plumb joints, grain lost over gaps, least widths of leaves, equal widths and a
 * joint on the middle where they are wanted, thickness, and a back behind every front.
 */
export function gradeReport(
  set: PanelSet,
  wanted: readonly Front[],
  leaves: readonly BenchLeaf[],
  { grade, cut, leaf }: GradeAsked,
): GradeLine[] {
  const fronts = wanted.flatMap(({ id, door }) =>
    set.fronts[id] ? [{ id, door, front: set.fronts[id] as SetFront }] : [],
  );
  const lost = (kind: 'end' | 'side') =>
    worst(
      set.joints.filter((joint) => joint.kind === kind).map((joint) => ({ front: joint.to.front, value: joint.lost })),
    );
  const upright = fronts.filter(({ door }) => isSideMatch(door.match));
  const inner = upright.flatMap(({ id, front }) =>
    widthsOf(front)
      .slice(1, -1)
      .map((value) => ({ front: id, value })),
  );
  const balanced = upright.filter(
    ({ door }) => door.arrangement !== 'running' && door.arrangement !== 'centred' && door.run === null,
  );
  const uneven = balanced.map(({ id, front }) => ({ front: id, value: spread(widthsOf(front)) }));
  const centre = upright.filter(
    ({ door, front }) =>
      door.match === 'slip centre book' || (door.arrangement === 'balanced and centred' && front.cells.length > 1),
  );
  const off = centre.map(({ id, front }) => ({ front: id, value: offMiddle(front) }));
  const bare = fronts.filter(({ front, door }) => door.backed && front.backer.length === 0).map(({ id }) => id);
  return [
    most('Veneer aligned from front to front', '8-4.4.4.2.3', ALIGNMENT[grade], worst(alignment(set, leaves))),
    most(
      'Joints plumb',
      '8-7.2.2.1',
      grade === 'economy' ? null : PLUMB.most,
      worst(fronts.flatMap(plumb)),
      'mm in 2440 mm',
    ),
    most('Grain lost at an end-matched joint', '8-7.2.3', LOST.end, lost('end')),
    most('Grain lost at a side-matched joint', '8-7.2.4', LOST.side, lost('side')),
    atLeast(
      'Width of the leaves, the outer ones apart',
      'p. 84, face grade AA',
      grade === 'premium' ? LEAST[cut] : null,
      inner,
    ),
    most('Leaves of equal width before trimming', '4-1.2.20.1', EQUAL, worst(uneven)),
    most('A joint on the middle of the panel', '4-1.2.20.2 and .3', EQUAL, worst(off)),
    atLeast('Thickness of the veneer', '8-4.2.11.4.2.6', THICK, fronts.length > 0 ? [{ front: '', value: leaf }] : []),
    {
      what: 'Both faces veneered alike',
      section: 'balanced construction (from memory)',
      limit: 0,
      found: bare.length,
      unit: 'fronts',
      holds: fronts.length > 0 ? bare.length === 0 : null,
      fronts: bare,
    },
  ];
}

interface Found {
  readonly front: string;
  readonly value: number;
}

/** The largest and all that come near it by a micrometre. */
const worst = (found: readonly Found[]): readonly Found[] => [...found].sort((a, b) => b.value - a.value);

function most(
  what: string,
  section: string,
  limit: number | null,
  found: readonly Found[],
  unit: GradeLine['unit'] = 'mm',
): GradeLine {
  const value = found[0]?.value ?? null;
  const over = limit === null ? [] : found.filter((one) => one.value > limit + 1e-6);
  return {
    what,
    section,
    limit,
    found: value,
    unit,
    holds: limit === null || value === null ? null : over.length === 0,
    fronts: namesOf(over),
  };
}

function atLeast(what: string, section: string, limit: number | null, found: readonly Found[]): GradeLine {
  const value = found.length > 0 ? Math.min(...found.map((one) => one.value)) : null;
  const under = limit === null ? [] : found.filter((one) => one.value < limit - 1e-6);
  return {
    what,
    section,
    limit,
    found: value,
    unit: 'mm',
    holds: limit === null || value === null ? null : under.length === 0,
    fronts: namesOf(under),
  };
}

const namesOf = (found: readonly Found[]): string[] =>
  [...new Set(found.map(({ front }) => front))].filter((id) => id !== '');

/** Widths of a front's cells from left to right; of the first row where there are several. */
function widthsOf({ cells }: SetFront): number[] {
  const boxes = cells.map(({ cell }) => bounds(cell));
  const top = Math.min(...boxes.map(({ minY }) => minY));
  return boxes
    .filter(({ minY }) => minY - top < EQUAL)
    .sort((a, b) => a.minX - b.minX)
    .map(({ minX, maxX }) => maxX - minX);
}

const spread = (of: readonly number[]): number => (of.length > 0 ? Math.max(...of) - Math.min(...of) : 0);

/** How far the nearest joint lies off the panel's middle, mm; the whole half where there is none. */
function offMiddle({ pressed, joints }: SetFront): number {
  const middle = pressed.width / 2;
  return Math.min(
    middle,
    ...joints.filter(({ kind }) => kind === 'side').map(({ line }) => Math.abs(line[0][0] - middle)),
  );
}

/** How far each side joint leans over the standard's height. */
const plumb = ({ id, door, front }: { id: string; door: Front['door']; front: SetFront }): Found[] =>
  isSideMatch(door.match)
    ? front.joints
        .filter(({ kind }) => kind === 'side')
        .map(({ line: [p, q] }) => ({
          front: id,
          value: (Math.abs(p[0] - q[0]) / Math.max(1e-9, Math.abs(p[1] - q[1]))) * PLUMB.over,
        }))
    : [];

/** How far along the grain two fronts beside each other are cut from different places of their leaves. */
function alignment(set: PanelSet, leaves: readonly BenchLeaf[]): Found[] {
  const begins = new Map(leaves.map(({ board, leaf, top }) => [`${board} ${leaf}`, bounds(top.outline).minX]));
  const along = (front: SetFront | undefined, cell: Cell | undefined): number | null => {
    if (!front || !cell) return null;
    const [a, b, c, d, e, f] = cell.toPanel;
    // Where the leaf lies at the level of the elevation's own zero, so that fronts of different heights can be held against each other.
    const level = bounds(front.trimmed).minY - front.at[1];
    const [x] = apply(invert(affine<'face', 'panel'>(a, b, c, d, e, f)), [0, level] as Point<'panel'>);
    return x - (begins.get(`${cell.board} ${cell.leaf}`) ?? 0);
  };
  return set.joints.flatMap(({ from, to, kind }): Found[] => {
    if (kind !== 'side') return [];
    const [p, q] = [from, to].map(({ front, cell }) => along(set.fronts[front], set.fronts[front]?.cells[cell]));
    return p === null || q === null || p === undefined || q === undefined
      ? []
      : [{ front: to.front, value: Math.abs(p - q) }];
  });
}
