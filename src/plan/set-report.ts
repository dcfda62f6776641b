import { type Affine, bounds, type Point } from '../geometry';
import { type SeamWord, seamWord } from '../grain';
import type { DoorFrame, Job, PanelSet, SetFront } from '../job';
import { frameMembers, setWarnings } from '../leaves';
import { benchRules } from './bench';
import { pieceReport } from './panel-pieces';
import { pressReport } from './press';
import { gradeOf } from './set-grade';
import type { FrontReport, LeafUse, SetReport } from './set-types';
import { taping } from './taping';

/** A set of doors computed, for screen and paper. Deterministic: the same job and set give the same report. */
export function setReport(job: Job, set: PanelSet): SetReport {
  const fronts = frontReports(job, set);
  return {
    id: set.id,
    name: set.name,
    gap: set.gap,
    fronts,
    stack: leafStack(job, set, fronts),
    misses: set.misses,
    press: pressReport(job, fronts),
    warnings: setWarnings(set, job.doors, benchRules(job).loose, job.units),
    grade: gradeOf(job, set),
    frames: fronts.flatMap(({ id, number }) => {
      const door = job.doors[set.fronts[id]?.door ?? ''];
      const members = door ? frameMembers(door) : [];
      return members.length > 0 ? [{ front: id, number, members }] : [];
    }),
  };
}

/** The fronts of a set in sequence: what the screen shows of it, without the press. */
export function frontReports(job: Job, set: PanelSet): FrontReport[] {
  return Object.entries(set.fronts)
    .map(([id, front]) => frontReport(job, set, id, front))
    .sort((a, b) => a.number - b.number);
}

/** The set that the job keeps for its papers, computed; none where it keeps none. */
export function keptSetReports(job: Job): SetReport[] {
  const set = job.sets[job.keptSet ?? ''];
  return set ? [setReport(job, set)] : [];
}

/** A front as a maker calls it: its door's name, numbered where there are several. */
export function frontName(job: Job, { door, copy }: Pick<SetFront, 'door' | 'copy'>): string {
  const own = job.doors[door];
  return own && own.count > 1 ? `${own.name} ${copy}` : (own?.name ?? `${door} ${copy}`);
}

/** From a panel to the elevation. */
export const panelInElevation = ({ origin: [x, y] }: Pick<FrontReport, 'origin'>): Affine<'panel', 'elevation'> => ({
  m: [1, 0, 0, 1, x, y],
});

/** Where the corner of the pressed panel stands: what is seen of it stands within rails and stiles, else its trimmed edge is the front's. */
function originOf({ at: [x, y], trimmed, sight }: SetFront, frame: DoorFrame | null): Point<'elevation'> {
  const { minX, minY } = bounds(frame ? sight : trimmed);
  return [x + (frame?.stile ?? 0) - minX, y + (frame?.topRail ?? 0) - minY];
}

const word = (blend: number | null): SeamWord | null => (blend === null ? null : seamWord(blend));

function frontReport(job: Job, set: PanelSet, id: string, front: SetFront): FrontReport {
  const frame = job.doors[front.door]?.frame ?? null;
  const { at, finished, pressed, trimmed, sight, cells, joints, backer, blend, sequence } = front;
  return {
    id,
    number: sequence,
    name: frontName(job, front),
    at,
    origin: originOf(front, frame),
    finished,
    pressed,
    trimmed,
    sight,
    framed: frame !== null,
    locked: set.locked.includes(id),
    pieces: cells.map((cell, i) => pieceReport(job, cell, i + 1)),
    back: backer.map((cell, i) => pieceReport(job, cell, i + 1)),
    joints: joints.map(({ cells: [a, b], kind, line, blend: own }) => {
      return { between: [a + 1, b + 1], kind, line, blend: own, word: word(own) };
    }),
    blend,
    word: word(blend),
    gaps: gapsOf(set, id),
    taping: taping(cells.length, joints),
  };
}

function gapsOf(set: PanelSet, id: string): FrontReport['gaps'] {
  const blends = new Map<string, (number | null)[]>();
  for (const { from, to, blend } of set.joints) {
    if (from.front !== id && to.front !== id) continue;
    const other = from.front === id ? to.front : from.front;
    blends.set(other, [...(blends.get(other) ?? []), blend]);
  }
  return [...blends].flatMap(([other, all]) => {
    const front = set.fronts[other];
    const known = all.filter((blend) => blend !== null);
    const blend = known.length > 0 ? Math.min(...known) : null;
    return front ? [{ to: front.sequence, blend, word: word(blend) }] : [];
  });
}

/** Every leaf that is at hand, board by board in sawing order, with what it is used for. */
export function leafStack(job: Job, set: Pick<PanelSet, 'without'>, fronts: readonly FrontReport[]): LeafUse[] {
  const uses = new Map<string, LeafUse['uses'][number][]>();
  for (const front of fronts) {
    for (const side of ['face', 'back'] as const) {
      for (const { board, leaf, number } of side === 'face' ? front.pieces : front.back) {
        const key = `${board} ${leaf}`;
        const own = uses.get(key) ?? [];
        own.push({ front: front.id, panel: front.number, side, piece: number });
        uses.set(key, own);
      }
    }
  }
  return Object.values(job.boards).flatMap(({ id: board, name: boardName, leaves }) =>
    Object.values(leaves)
      .sort((a, b) => a.place - b.place)
      .map(({ id: leaf, place }): LeafUse => {
        const key = `${board} ${leaf}`;
        return { board, boardName, leaf, place, uses: uses.get(key) ?? [], without: set.without.includes(key) };
      }),
  );
}
