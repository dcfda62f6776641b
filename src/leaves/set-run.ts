import { affine, bounds, compose, rectangle, type Segment } from '../geometry';
import type { FaceName, SetJoint } from '../job';
import { pattern } from './match-patterns';
import { type Columns, linesOfBay } from './set-columns';
import {
  type Base,
  baseMap,
  type Cut,
  flipOf,
  lineIn,
  mirrors,
  type OpenJoint,
  type OpenSheet,
  type OpenSlot,
  type SizedFront,
  slotOf,
} from './set-slots';

/** Fronts overlap, or stand over each other, when they have more than this in common, mm. */
const COMMON = 1;
/** A joint over a gap counts for less than one in a panel: the eye is led across, but sees no line. */
const OVER_GAP = 0.5;

/** Saw and plane, as a sheet needs them, mm. */
export interface SheetRules {
  readonly jointing: number;
  readonly crosscut: number;
}

/** A front's pressed panel where its wood lies in the run: as in the elevation, but pushed right and down where trim and saw want more than the gap. */
interface Laid {
  readonly front: SizedFront;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const trimOf = ({ front }: Laid): number => front.door.trim;
const overlap = (a0: number, a1: number, b0: number, b1: number): number => Math.min(a1, b1) - Math.max(a0, b0);
/** What two panels have in common sideways and up and down, trim left out. */
const sideways = (a: Laid, b: Laid): number =>
  overlap(a.x0 + trimOf(a), a.x1 - trimOf(a), b.x0 + trimOf(b), b.x1 - trimOf(b));
const upright = (a: Laid, b: Laid): number =>
  overlap(a.y0 + trimOf(a), a.y1 - trimOf(a), b.y0 + trimOf(b), b.y1 - trimOf(b));

function laidOut(fronts: readonly SizedFront[], crosscut: number, running: boolean): Laid[] {
  const asDrawn = fronts.map((front): Laid => {
    const { sizes, at } = front;
    const [x0, y0] = [at[0] + sizes.offset[0], at[1] + sizes.offset[1]];
    return { front, x0, y0, x1: x0 + sizes.pressed.width, y1: y0 + sizes.pressed.height };
  });
  const down = new Map<Laid, Laid>();
  for (const one of [...asDrawn].sort((a, b) => a.y0 - b.y0)) {
    const above = asDrawn.filter((other) => other !== one && other.y0 < one.y0 && sideways(other, one) > COMMON);
    const y0 = Math.max(one.y0, ...above.map((other) => (down.get(other)?.y1 ?? -Infinity) + crosscut));
    down.set(one, { ...one, y0, y1: y0 + one.y1 - one.y0 });
  }
  const moved = asDrawn.map((one) => down.get(one) as Laid);
  if (!running) return moved;
  // A leaf that goes on from one panel into the next is cut apart: the next begins behind the saw and both trims.
  const right = new Map<Laid, Laid>();
  for (const one of [...moved].sort((a, b) => a.x0 - b.x0)) {
    const before = moved.filter((other) => other !== one && other.x0 < one.x0 && upright(other, one) > COMMON);
    const x0 = Math.max(one.x0, ...before.map((other) => (right.get(other)?.x1 ?? -Infinity) + crosscut));
    right.set(one, { ...one, x0, x1: x0 + one.x1 - one.x0 });
  }
  return moved.map((one) => right.get(one) as Laid);
}

/** Pairs of fronts beside each other with nothing between, left one first. */
function neighbours(laid: readonly Laid[]): [Laid, Laid][] {
  return laid.flatMap((a) => {
    const right = laid.filter(
      (b) => b !== a && b.x0 + trimOf(b) >= a.x1 - trimOf(a) - COMMON && upright(a, b) > COMMON,
    );
    return right
      .filter(
        (b) =>
          !right.some(
            (c) =>
              c !== b &&
              c.x1 - trimOf(c) <= b.x0 + trimOf(b) + COMMON &&
              upright(c, b) > COMMON &&
              upright(a, c) > COMMON,
          ),
      )
      .map((b): [Laid, Laid] => [a, b]);
  });
}

const middleOf = (a: Laid, b: Laid): number => (a.x1 - trimOf(a) + b.x0 + trimOf(b)) / 2;

/** Lines at which leaves meet over the whole run: the middles of its gaps, and between them as each bay's narrowest front wants. */
function linesOfRun(laid: readonly Laid[], columns: Columns): number[] {
  const [left, right] = [Math.min(...laid.map(({ x0 }) => x0)), Math.max(...laid.map(({ x1 }) => x1))];
  const height = Math.max(...laid.map(({ y1 }) => y1)) - Math.min(...laid.map(({ y0 }) => y0));
  const first = (laid[0] as Laid).front.door;
  if (first.arrangement === 'running') {
    const whole = {
      from: left,
      to: right,
      height,
      match: first.match,
      arrangement: first.arrangement,
      leaves: first.leaves,
    };
    return linesOfBay(whole, 1, columns);
  }
  const gaps: number[] = [];
  for (const x of neighbours(laid)
    .map(([a, b]) => middleOf(a, b))
    .sort((a, b) => a - b)) {
    if (gaps.length === 0 || x - (gaps.at(-1) as number) > COMMON) gaps.push(x);
  }
  const ends = [left, ...gaps, right];
  const bays = ends.length - 1;
  const lines = ends.slice(0, -1).flatMap((from, i) => {
    const to = ends[i + 1] as number;
    const over = laid.filter((one) => overlap(one.x0 + trimOf(one), one.x1 - trimOf(one), from, to) > (to - from) / 2);
    const narrow = over.reduce((a, b) => (b.x1 - b.x0 < a.x1 - a.x0 ? b : a), over[0] as Laid);
    const { match, arrangement, leaves } = narrow.front.door;
    // Leaves are equally wide before trimming (AWS 4-1.2.20.1), so they are counted off the pressed panel.
    const own = narrow.x1 - narrow.x0 < (to - from) * 1.5;
    const bay = { from: own ? narrow.x0 : from, to: own ? narrow.x1 : to, height, match, arrangement, leaves };
    return [from, ...linesOfBay(bay, bays, columns).slice(1, -1)];
  });
  return [...lines, right];
}

/** A run of fronts side by side and over each other whose grain goes on from one to the next, or a single front; their match is of the side kind. */
export function runSheet(
  fronts: readonly SizedFront[],
  face: FaceName,
  columns: Columns,
  rules: SheetRules,
): OpenSheet {
  const { match, arrangement } = (fronts[0] as SizedFront).door;
  const laid = laidOut(fronts, rules.crosscut, arrangement === 'running');
  const lines = linesOfRun(laid, columns);
  const top = Math.min(...laid.map(({ y0 }) => y0));
  const height = Math.max(...laid.map(({ y1 }) => y1)) - top;
  const width = (lines.at(-1) as number) - (lines[0] as number);
  const { cells } = pattern({ match, ends: 'butt', count: 1 }, { width, height, lines, rows: [0, height] });
  const base: Base = { face, lean: 0 };
  const cutsOf = new Map<Laid, Cut[]>();
  const columnOf = new Map<Cut, number>();
  for (const one of laid) {
    const { front, x0, x1, y0 } = one;
    const mine = cells
      .map((_, c) => [c, lines[c] as number, lines[c + 1] as number] as const)
      // Of a column that is narrower itself, half is enough.
      .filter(([, l, r]) => overlap(l, r, x0 + trimOf(one), x1 - trimOf(one)) > Math.min(COMMON, (r - l) / 2))
      .map(([c]) => c);
    const { width: w, height: h } = front.sizes.pressed;
    const cuts = mine.map((c, i): Cut => {
      const [from, to] = [
        i === 0 ? 0 : (lines[c] as number) - x0,
        i === mine.length - 1 ? w : (lines[c + 1] as number) - x0,
      ];
      const carried = compose((cells[c] as (typeof cells)[number]).carry, baseMap(base));
      const edge = (x: number): Segment<'panel'> => [
        [x, 0],
        [x, h],
      ];
      return {
        front,
        cell: i,
        polygon: rectangle(from, 0, to, h),
        toPanel: compose(affine<'panel', 'panel'>(1, 0, 0, 1, -x0, top - y0), carried),
        jointed: [...(i > 0 ? [edge(from)] : []), ...(i < mine.length - 1 ? [edge(to)] : [])],
      };
    });
    cutsOf.set(one, cuts);
    for (const [i, cut] of cuts.entries()) columnOf.set(cut, mine[i] as number);
  }
  // A column of which no front sees anything takes no leaf.
  const seen = [...new Set(columnOf.values())].sort((a, b) => a - b);
  const every = [...cutsOf.values()].flat();
  for (const cut of every) columnOf.set(cut, seen.indexOf(columnOf.get(cut) as number));
  const slots = seen.map((column, c): OpenSlot => {
    const { carry } = cells[column] as (typeof cells)[number];
    const shown = mirrors(carry) === (face === 'top') ? 'bottom' : 'top';
    return slotOf(
      every.filter((cut) => columnOf.get(cut) === c),
      shown,
      flipOf(carry),
      rules.jointing,
    );
  });
  const matched = match !== 'random';
  const inPanels = [...cutsOf].flatMap(([{ front }, cuts]) =>
    cuts.slice(1).map((cut, i) => inner(front, cuts[i] as Cut, cut, columnOf, matched ? 1 / height : 0)),
  );
  const over = matched ? neighbours(laid).flatMap(([a, b]) => overGap(a, b, cutsOf, columnOf, height, slots)) : [];
  const middle =
    slots.length % 2 === 1 && arrangement === 'centred' && fronts.length === 1 ? [(slots.length - 1) / 2] : [];
  return {
    fronts,
    slots,
    joints: [...inPanels, ...over],
    links: linksOf(laid, cutsOf, columnOf, arrangement === 'running'),
    ordered: matched,
    centred: middle,
    flitch: fronts.find(({ door }) => door.flitch !== null)?.door.flitch ?? null,
  };
}

/** A joint within a front. */
function inner(front: SizedFront, a: Cut, b: Cut, columnOf: ReadonlyMap<Cut, number>, share: number): OpenJoint {
  const { height } = front.sizes.pressed;
  const x = Math.max(...a.polygon.map((p) => p[0]));
  const line: Segment<'panel'> = [
    [x, 0],
    [x, height],
  ];
  const [p, q] = [lineIn(a, line), lineIn(b, line)];
  return {
    slots: [columnOf.get(a) as number, columnOf.get(b) as number],
    lines: [p.line, q.line],
    left: [p.left, q.left],
    weight: share * height,
    of: { front: front.id, joint: { cells: [a.cell, b.cell], kind: 'side', line } },
  };
}

/** A joint over the gap between two fronts, along what they have in common, from trimmed edge to trimmed edge. */
function overGap(
  a: Laid,
  b: Laid,
  cutsOf: ReadonlyMap<Laid, Cut[]>,
  columnOf: ReadonlyMap<Cut, number>,
  height: number,
  slots: readonly OpenSlot[],
): OpenJoint[] {
  const [last, first] = [cutsOf.get(a)?.at(-1), cutsOf.get(b)?.[0]];
  if (!last || !first || columnOf.get(first) !== (columnOf.get(last) as number) + 1) return [];
  const [from, to] = [Math.max(a.y0 + trimOf(a), b.y0 + trimOf(b)), Math.min(a.y1 - trimOf(a), b.y1 - trimOf(b))];
  const lines = sidesOver(a, b);
  const [p, q] = [lineIn(last, lines[0]), lineIn(first, lines[1])];
  return [
    {
      slots: [columnOf.get(last) as number, columnOf.get(first) as number],
      lines: [p.line, q.line],
      left: [p.left, q.left],
      weight: (OVER_GAP * (to - from)) / height,
      of: {
        gap: {
          from: { front: a.front.id, cell: last.cell },
          to: { front: b.front.id, cell: first.cell },
          kind: 'side',
          mirrored: slots[columnOf.get(last) as number]?.face !== slots[columnOf.get(first) as number]?.face,
          lost: b.x0 + trimOf(b) - (a.x1 - trimOf(a)),
          lines,
        },
      },
    },
  ];
}

/** A line of the run on the panel of one of its fronts. */
const onPanel = ({ x0, y0 }: Laid, p: readonly [number, number], q: readonly [number, number]): Segment<'panel'> => [
  [p[0] - x0, p[1] - y0],
  [q[0] - x0, q[1] - y0],
];

/** Where one leaf goes on from a front into the one below it (or beside it, in a running match). */
function linksOf(
  laid: readonly Laid[],
  cutsOf: ReadonlyMap<Laid, Cut[]>,
  columnOf: ReadonlyMap<Cut, number>,
  running: boolean,
): Omit<SetJoint, 'blend'>[] {
  const links: Omit<SetJoint, 'blend'>[] = [];
  const link = (a: Laid, b: Laid, kind: SetJoint['kind'], lost: number) => {
    for (const from of cutsOf.get(a) ?? []) {
      const to = cutsOf.get(b)?.find((cut) => columnOf.get(cut) === columnOf.get(from));
      const lines = to && (kind === 'end' ? endsOver(a, from, b, to) : sidesOver(a, b));
      if (!to || !lines) continue;
      links.push({
        from: { front: a.front.id, cell: from.cell },
        to: { front: b.front.id, cell: to.cell },
        kind,
        mirrored: false,
        lost,
        lines,
      });
    }
  };
  for (const a of laid) {
    const below = laid.filter((b) => b !== a && b.y0 >= a.y1 - trimOf(a) - COMMON && sideways(a, b) > COMMON);
    const nearest = below.filter(
      (b) => !below.some((c) => c !== b && c.y1 <= b.y0 + COMMON && sideways(c, b) > COMMON),
    );
    for (const b of nearest) link(a, b, 'end', b.y0 + trimOf(b) - (a.y1 - trimOf(a)));
  }
  if (running) for (const [a, b] of neighbours(laid)) link(a, b, 'side', b.x0 + trimOf(b) - (a.x1 - trimOf(a)));
  return links;
}

type Lines = NonNullable<SetJoint['lines']>;

/** The ends of one column that face each other over the gap between a front and the one below it; null where they have nothing in common. */
function endsOver(a: Laid, from: Cut, b: Laid, to: Cut): Lines | null {
  const reach = (one: Laid, { polygon }: Cut) => {
    const { minX, maxX } = bounds(polygon);
    return [Math.max(one.x0 + minX, one.x0 + trimOf(one)), Math.min(one.x0 + maxX, one.x1 - trimOf(one))] as const;
  };
  const [p, q] = [reach(a, from), reach(b, to)];
  const [left, right] = [Math.max(p[0], q[0]), Math.min(p[1], q[1])];
  if (right - left < COMMON) return null;
  const [above, below] = [a.y1 - trimOf(a), b.y0 + trimOf(b)];
  return [onPanel(a, [left, above], [right, above]), onPanel(b, [left, below], [right, below])];
}

/** The edges of a front and of the one beside it, where one leaf goes on from the one into the other. */
function sidesOver(a: Laid, b: Laid): Lines {
  const [from, to] = [Math.max(a.y0 + trimOf(a), b.y0 + trimOf(b)), Math.min(a.y1 - trimOf(a), b.y1 - trimOf(b))];
  const [left, right] = [a.x1 - trimOf(a), b.x0 + trimOf(b)];
  return [onPanel(a, [left, from], [left, to]), onPanel(b, [right, from], [right, to])];
}
