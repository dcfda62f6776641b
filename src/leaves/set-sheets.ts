import { affine, compose, type Point, type Segment } from '../geometry';
import type { Door, FaceName } from '../job';
import { InputProblem } from '../units';
import { panelSizes } from './frame-panel';
import { isSideMatch, type PatternSize, pattern, steps } from './match-patterns';
import { meetings } from './panel-joints';
import { type Columns, linesOfBay } from './set-columns';
import { runSheet, type SheetRules } from './set-run';
import {
  baseMap,
  boxOf,
  type Cut,
  flipOf,
  kindOf,
  lineIn,
  mirrors,
  type OpenJoint,
  type OpenSheet,
  type OpenSlot,
  type Sheet,
  type SizedFront,
  type SlotJoint,
  slotOf,
} from './set-slots';
import type { Front } from './set-types';
import type { Strip } from './window-strips';

/** Wedges of a radial match, and columns of a herringbone, where the door does not say (sunburst: six or more, AWS 4-1.2.22.1). */
const WEDGES = 8;
const HERRINGBONE_COLUMNS = 2;

export const sized = (front: Front): SizedFront => ({ ...front, sizes: panelSizes(front.door) });

/** Whether a door's leaves simply stand side by side in one row, so that its grain can go on into its neighbours. */
export const standsUpright = ({ match, ends }: Door): boolean => isSideMatch(match) && ends === null;

/**
 * Fronts in sequence as sheets: runs that carry their grain on, and fronts alone.
 * @param face of the first leaf that shows: a match may begin with either
 * @param longest leaf of the bench, mm: a run that is taller comes in several sheets, cut between fronts
 * @throws InputProblem where the fronts of a run do not go together
 */
export function sheetsOf(
  fronts: readonly SizedFront[],
  face: FaceName,
  longest: number,
  columns: (run: string) => Columns,
  rules: SheetRules,
): Sheet[] {
  const sheets: OpenSheet[] = [];
  const done = new Set<string>();
  for (const front of fronts) {
    if (done.has(front.id)) continue;
    const { run } = front.door;
    const own = run === null ? [front] : fronts.filter(({ door }) => door.run === run);
    for (const { id } of own) done.add(id);
    if (own.length > 1) refuseUnlike(own);
    for (const part of standsUpright(front.door) ? heightsThatFit(own, longest, rules) : [own]) {
      const of = columns(keyOfRun(part));
      sheets.push(standsUpright(front.door) ? runSheet(part, face, of, rules) : patternSheet(front, face, of, rules));
    }
  }
  return sheets.map(fromCorner);
}

/** By which a sheet's count of leaves is remembered. */
export const keyOfRun = (fronts: readonly Front[]): string => fronts.map(({ id }) => id).join(' ');

function refuseUnlike(fronts: readonly SizedFront[]): void {
  const [first] = fronts as [SizedFront];
  const odd = fronts.find(
    ({ door }) =>
      door.match !== first.door.match || !standsUpright(door) || door.arrangement !== first.door.arrangement,
  );
  if (!odd) return;
  throw new InputProblem(
    standsUpright(odd.door)
      ? `${odd.door.name} and ${first.door.name} are to carry their grain on, but are matched or shared out in different ways.`
      : `${odd.door.name} is to carry its grain on into its neighbours, which leaves joined end to end or in a ${odd.door.match} match cannot.`,
    `/doors/${odd.door.id}/match`,
    'Give all fronts of a run one match (book, slip, reverse slip or random) in one row, or take the run away.',
  );
}

/** A run in parts that each come out of one leaf's length, from the top. */
function heightsThatFit(fronts: readonly SizedFront[], longest: number, { crosscut }: SheetRules): SizedFront[][] {
  const top = ({ at, sizes }: SizedFront) => at[1] + sizes.offset[1];
  const parts: SizedFront[][] = [];
  let [from, extra] = [0, 0];
  for (const front of [...fronts].sort((a, b) => top(a) - top(b))) {
    const part = parts.at(-1);
    if (part?.[0]) {
      const under = part.some((one) => top(one) + one.sizes.pressed.height <= top(front) + 2 * front.door.trim);
      if (under) extra += Math.max(0, 2 * front.door.trim + crosscut);
    }
    if (part && top(front) + front.sizes.pressed.height + extra - from <= longest) part.push(front);
    else {
      parts.push([front]);
      [from, extra] = [top(front), 0];
    }
  }
  // Within a part the set's own sequence stands.
  return parts.map((part) => fronts.filter((front) => part.includes(front)));
}

/** One front of any other match: its cells one leaf each, in the pattern's order. */
function patternSheet(front: SizedFront, face: FaceName, columns: Columns, { jointing }: SheetRules): OpenSheet {
  const { door, sizes } = front;
  const { match } = door;
  const { width, height } = sizes.pressed;
  const rows = steps(0, height, door.ends?.rows ?? 1);
  const tall = rows[1] as number;
  const lines = isSideMatch(match)
    ? linesOfBay(
        { from: 0, to: width, height: tall, match, arrangement: door.arrangement, leaves: door.leaves },
        1,
        columns,
      )
    : steps(0, width, match === 'herringbone' ? (door.leaves ?? HERRINGBONE_COLUMNS) : 2);
  const size: PatternSize = { width, height, lines, rows };
  const count = match === 'radial' ? Math.max(3, door.leaves ?? WEDGES) : stripsOfHerringbone(size, columns);
  const { lean, cells } = pattern({ match, ends: door.ends?.match ?? 'book', count }, size);
  const joints = meetings(cells.map(({ polygon }) => polygon));
  const base = baseMap({ face, lean });
  const cuts = cells.map(
    ({ polygon, carry }, cell): Cut => ({
      front,
      cell,
      polygon,
      toPanel: compose(carry, base),
      jointed: joints.filter((joint) => joint.cells.includes(cell)).map(({ line }) => line),
    }),
  );
  const slots = cells.map(({ carry }, i): OpenSlot => {
    const shown = mirrors(carry) === (face === 'top') ? 'bottom' : 'top';
    return slotOf([cuts[i] as Cut], shown, flipOf(carry), jointing);
  });
  const longest = Math.max(1, ...joints.map(({ line }) => lengthOf(line)));
  // In a herringbone only the column joints mirror; down a column each leaf begins anew.
  const loose = (line: Segment<'panel'>) =>
    match === 'random' || (match === 'herringbone' && Math.abs(line[0][0] - line[1][0]) > 1);
  return {
    fronts: [front],
    slots,
    joints: joints.map(({ cells: [i, j], line }): OpenJoint => {
      const [p, q] = [lineIn(cuts[i] as Cut, line), lineIn(cuts[j] as Cut, line)];
      return {
        slots: [i, j],
        lines: [p.line, q.line],
        left: [p.left, q.left],
        weight: loose(line) ? 0 : lengthOf(line) / longest,
        of: { front: front.id, joint: { cells: [i, j], kind: kindOf(p.line), line } },
      };
    }),
    links: [],
    ordered: match !== 'random',
    centred: [],
    flitch: door.flitch,
  };
}

const lengthOf = ([p, q]: Segment<'panel'>): number => Math.hypot(q[0] - p[0], q[1] - p[1]);

/** Fewest leaves down a column of a herringbone that are no broader than leaves commonly are. */
function stripsOfHerringbone({ width, height, lines }: PatternSize, { broad }: Columns): number {
  const column = width / (lines.length - 1);
  return Math.max(1, Math.ceil(((height + column) * Math.SQRT1_2) / broad(column * Math.SQRT2)));
}

/**
 * The sheet with the frame of its slots begun at their common corner, so that like sheets are alike wherever they hang, and with its keys: what it asks of
 * its leaves, to the hundredth of a millimetre.
 */
function fromCorner(sheet: OpenSheet): Sheet {
  const { minX, minY } = boxOf(sheet.slots.flatMap(({ wood }) => wood));
  const moved = ([x, y]: Point<'face'>): Point<'face'> => [x - minX, y - minY];
  const strip = (one: Strip): Strip => ({ ...one, u: one.u - minX, v: one.v - minY });
  const back = affine<'face', 'face'>(1, 0, 0, 1, minX, minY);
  const near = (x: number) => Math.round(x * 100);
  const slots = sheet.slots.map((slot) => {
    const [sound, wood] = [slot.sound.map(strip), slot.wood.map(strip)];
    const asked = [sound, wood].map((of) => of.flatMap(({ u, v, along, across }) => [u, v, along, across].map(near)));
    return {
      ...slot,
      pieces: slot.pieces.map((piece) => ({ ...piece, toPanel: compose(piece.toPanel, back) })),
      sound,
      wood,
      box: boxOf(wood),
      key: `${slot.face} ${asked.join(' ')}`,
    };
  });
  const joints = sheet.joints.map((joint) => {
    const lines = joint.lines.map(([p, q]) => [moved(p), moved(q)]) as unknown as SlotJoint['lines'];
    return { ...joint, lines, key: [...lines.flat(2).map(near), joint.left, near(joint.weight)].join(' ') };
  });
  const { ordered, centred } = sheet;
  const key = JSON.stringify([slots.map((slot) => slot.key), joints.map((j) => [j.slots, j.key]), ordered, centred]);
  return { ...sheet, slots, joints, key };
}
