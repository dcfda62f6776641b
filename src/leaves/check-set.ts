import {
  bounds,
  difference,
  intersection,
  type Point,
  type Polygon,
  type Region,
  rectangle,
  regionsArea,
} from '../geometry';
import type { Cell, Door, PanelSet, SetFront } from '../job';
import { checkCover, checkMeeting, checkWood } from './check-cells';
import type { BenchLeaf, Front } from './set-types';

/** A length that should be another, mm. */
const LENGTH = 0.01;
/** Windows of one leaf may touch, and no more: mm2. */
const AREA = 0.5;

/**
 * Tests a laid set by its own arithmetic, sharing no code with the search: every wanted front is there in its size or missed with a reason, its cells cover it
 * once, each window is inside its leaf's wood and off faults that would be seen, no wood is used twice, mirrored faces are right, leaves stand in sequence,
 * backs are whole, and what was left out is not used.
 * @returns sentences, one a fault; none for a set that holds
 */
export function checkSet(set: PanelSet, fronts: readonly Front[], leaves: readonly BenchLeaf[]): string[] {
  const faults: string[] = [];
  const byName = new Map(leaves.map((leaf) => [`${leaf.board} ${leaf.leaf}`, leaf]));
  const used = new Map<string, Cell[]>();
  for (const wanted of fronts) {
    const { id, door } = wanted;
    const front = set.fronts[id];
    const say = (fault: string) => faults.push(`${called(wanted)}: ${fault}.`);
    if (!front) {
      if (!set.misses.some((miss) => miss.front === id && miss.what === 'face'))
        say('it is neither laid out nor said to be missed');
      continue;
    }
    for (const fault of checkFront(front, door, byName)) say(fault);
    if (
      door.backed &&
      front.backer.length === 0 &&
      !set.misses.some((miss) => miss.front === id && miss.what === 'back')
    )
      say('it has no back, and nothing says why');
    for (const cell of [...front.cells, ...front.backer]) {
      const name = `${cell.board} ${cell.leaf}`;
      if (set.without.includes(name)) say(`leaf ${cell.leaf} was left out and is used`);
      used.set(name, [...(used.get(name) ?? []), cell]);
    }
  }
  for (const [name, cells] of used) {
    for (const [i, { window }] of cells.entries()) {
      for (const other of cells.slice(i + 1)) {
        if (regionsArea(intersection([region(window)], [region(other.window)])) > AREA)
          faults.push(`Wood of leaf ${name} is used twice.`);
      }
    }
  }
  return [...faults, ...checkGaps(set), ...checkSequence(set, fronts, byName)];
}

/** What a front is called: of several of one door, which of them. */
const called = ({ door: { name, count }, copy }: Front): string => (count > 1 ? `${name} ${copy}` : name);

const region = <F extends 'face' | 'panel'>(outer: Polygon<F>): Region<F> => ({ outer, holes: [] });

/** Sizes of a front's panel, worked out again: what is seen, what stands in grooves, what is trimmed. */
function sizesOf({ width, height, trim, frame }: Door) {
  const [w, h] = frame ? [width - 2 * frame.stile, height - frame.topRail - frame.bottomRail] : [width, height];
  const hidden = frame ? Math.max(frame.groove - frame.clearance, 0) : 0;
  const around = hidden + trim;
  return {
    pressed: { width: w + 2 * around, height: h + 2 * around },
    trimmed: rectangle<'panel'>(trim, trim, w + 2 * hidden + trim, h + 2 * hidden + trim),
    sight: rectangle<'panel'>(around, around, w + around, h + around),
    // Where the pressed panel begins on the finished front.
    begins: frame ? ([frame.stile - around, frame.topRail - around] as const) : ([-trim, -trim] as const),
  };
}

const alike = (a: Polygon<'panel'>, b: Polygon<'panel'>): boolean => {
  const [p, q] = [bounds(a), bounds(b)];
  return [p.minX - q.minX, p.minY - q.minY, p.maxX - q.maxX, p.maxY - q.maxY].every((d) => Math.abs(d) < LENGTH);
};

function checkFront(front: SetFront, door: Door, leaves: ReadonlyMap<string, BenchLeaf>): string[] {
  const faults: string[] = [];
  const { pressed, trimmed, sight, begins } = sizesOf(door);
  if (Math.abs(front.finished.width - door.width) > LENGTH || Math.abs(front.finished.height - door.height) > LENGTH)
    faults.push('it is not of the size that is wanted');
  if (
    Math.abs(front.pressed.width - pressed.width) > LENGTH ||
    Math.abs(front.pressed.height - pressed.height) > LENGTH
  )
    faults.push(`its panel is to be pressed ${pressed.width} by ${pressed.height} mm`);
  if (!alike(front.trimmed, trimmed) || !alike(front.sight, sight))
    faults.push('its panel is trimmed or seen in another size');
  const zones = door.covered.map((zone) =>
    region<'panel'>(zone.map(([x, y]): Point<'panel'> => [x - begins[0], y - begins[1]])),
  );
  const seen = zones.length > 0 ? difference([region(sight)], zones) : [region(sight)];
  faults.push(...checkCover(front.cells, pressed));
  if (front.backer.length > 0) faults.push(...checkCover(front.backer, pressed).map((fault) => `on its back ${fault}`));
  for (const [cells, shown] of [
    [front.cells, seen],
    [front.backer, []],
  ] as const) {
    for (const cell of cells) {
      const leaf = leaves.get(`${cell.board} ${cell.leaf}`);
      if (leaf) faults.push(...checkWood(cell, leaf, shown));
      else faults.push(`there is no leaf ${cell.leaf} of board ${cell.board}`);
    }
  }
  const butted = door.ends?.match === 'butt';
  for (const { cells, kind } of front.joints) {
    const [a, b] = [front.cells[cells[0]], front.cells[cells[1]]];
    const fault = a && b ? checkMeeting(door.match, kind, a, b, butted) : 'a joint names a cell that is not there';
    if (fault) faults.push(fault);
  }
  return faults;
}

/** Whether grain that runs on over a gap is told of trimmed edges that face each other, and what of one leaf is lost between them. */
function checkGaps({ fronts, joints }: PanelSet): string[] {
  return joints.flatMap(({ from, to, kind, lost, lines }): string[] => {
    const [a, b] = [fronts[from.front], fronts[to.front]];
    const [p, q] = [a?.cells[from.cell], b?.cells[to.cell]];
    const between = `between ${from.front} and ${to.front}`;
    if (!a || !b || !p || !q) return [`Grain ${between} is told of a piece that is not there.`];
    if (!lines) return [];
    const [one, other] = [bounds(a.trimmed), bounds(b.trimmed)];
    const axis = kind === 'side' ? 0 : 1;
    const at = kind === 'side' ? [one.maxX, other.minX] : [one.maxY, other.minY];
    const off = lines.some((line, i) => line.some((point) => Math.abs(point[axis] - (at[i] as number)) > LENGTH));
    const faults = off ? [`Grain ${between} is not measured at the trimmed edges.`] : [];
    const [[p0, p1], [q0, q1]] = lines;
    if (Math.abs(Math.hypot(p1[0] - p0[0], p1[1] - p0[1]) - Math.hypot(q1[0] - q0[0], q1[1] - q0[1])) > LENGTH)
      faults.push(`Grain ${between} is measured along edges of two lengths.`);
    if (p.board !== q.board || p.leaf !== q.leaf) return faults;
    // One leaf: what stands at one end of both edges lies so far apart on it.
    const gone = [
      [p0, q0],
      [p1, q1],
    ].map(([s, t]) => {
      const [x, y] = onLeaf(p, s as Point<'panel'>);
      const [u, v] = onLeaf(q, t as Point<'panel'>);
      return Math.hypot(x - u, y - v);
    });
    if (gone.some((mm) => Math.abs(mm - lost) > LENGTH))
      faults.push(`Of the leaf that goes on ${between} another length is lost than is said.`);
    return faults;
  });
}

/** A point of a panel on the leaf of one of its cells: its map is an isometry, so turned round it is its own transpose. */
const onLeaf = ({ toPanel: [a, b, c, d, e, f] }: Cell, [x, y]: Point<'panel'>): Point<'face'> => [
  a * (x - e) + b * (y - f),
  c * (x - e) + d * (y - f),
];

/** Whether leaves stand in sawing order: within a front that is matched, and from front to front where they come from one length of a board. */
function checkSequence(set: PanelSet, fronts: readonly Front[], leaves: ReadonlyMap<string, BenchLeaf>): string[] {
  const faults: string[] = [];
  const placeOf = ({ board, leaf }: Cell): number => leaves.get(`${board} ${leaf}`)?.place ?? 0;
  const matched = fronts.filter(({ id, door }) => door.match !== 'random' && set.fronts[id]);
  const numbered = matched.map(({ id }) => set.fronts[id] as SetFront);
  const order = Object.values(set.fronts).map(({ sequence }) => sequence);
  if (new Set(order).size !== order.length) faults.push('Two fronts have one number in the sequence.');
  for (const [k, { cells }] of numbered.entries()) {
    const name = called(matched[k] as Front);
    for (const [i, cell] of cells.slice(1).entries()) {
      const before = cells[i] as Cell;
      if (before.board !== cell.board) faults.push(`${name}: its leaves come from two boards.`);
      else if (placeOf(before) >= placeOf(cell))
        faults.push(`${name}: leaf ${cell.leaf} stands behind leaf ${before.leaf} and was sawn before it.`);
    }
  }
  const runOf = (k: number) => matched[k]?.door.run ?? null;
  for (let i = 0; i < numbered.length; i++) {
    for (let j = 0; j < numbered.length; j++) {
      const [a, b] = [numbered[i] as SetFront, numbered[j] as SetFront];
      if (a.sequence >= b.sequence || (runOf(i) !== null && runOf(i) === runOf(j))) continue;
      const late = a.cells.find((p) =>
        b.cells.some((q) => p.board === q.board && sameLength(p, q) && placeOf(p) > placeOf(q)),
      );
      if (late)
        faults.push(
          `${called(matched[i] as Front)} has leaf ${late.leaf} and comes before ${called(matched[j] as Front)}, whose leaves were sawn first.`,
        );
    }
  }
  return faults;
}

/** Whether two windows come from one length of their leaves. */
function sameLength(p: Cell, q: Cell): boolean {
  const [a, b] = [bounds(p.window), bounds(q.window)];
  const common = Math.min(a.maxX, b.maxX) - Math.max(a.minX, b.minX);
  return common > Math.min(a.maxX - a.minX, b.maxX - b.minX) / 2;
}
