import type { Job } from '../job';
import {
  type BoardToBuy,
  canBePlaned,
  flatThickness,
  leavesBy,
  longestClear,
  type NextLeaf,
  type WantedFace,
  type Way,
} from '../leaves';
import { formatLength, listed } from '../units';
import type { WayCount } from './boards-types';
import { atLeast, atMost, counted, leavesWords, wayWords } from './boards-words';
import type { SawnBoard } from './sawn-board';

/** Veneer thinner than this lets the core show through, mm: AWS 2009, 8-4.2.11.4.2.6. */
const THINNEST = 0.5;
/** Other ways of working that are named, at most. */
const NAMED = 3;

interface Facts {
  readonly wanted: number;
  readonly given: number;
  readonly spare: number;
  readonly lost: number;
  readonly ways: readonly WayCount[];
  readonly next: NextLeaf | null;
  readonly toBuy: readonly BoardToBuy[];
  /** No board after it has leaves for what it lacks. */
  readonly isLast: boolean;
}

/** What stands in the way: too few leaves, or none to spare; null where all is well, or no door wants any. */
export function warningOf(job: Job, { board, sawn }: SawnBoard, facts: Facts): string | null {
  const { wanted, given, spare, lost, toBuy, isLast } = facts;
  if (sawn.leaves === 0) return `${board.name} gives no leaf by this way of working.`;
  if (wanted === 0) return null;
  if (given < wanted) {
    const short = wanted - given;
    if (!isLast) return null;
    const buy = toBuy[0];
    const would = buy ? ` ${boardWords(buy, job)} would do; a board of another log will not match.` : '';
    return `It gives ${given} of the ${wanted} panel faces still wanted: ${short} short.${would}`;
  }
  if (spare > 0 && lost === 0) return null;
  const fails = lost === 0 ? 'one panel' : counted(lost, 'door', 'doors');
  return spare === 0
    ? `No leaf to spare: if one is spoilt, ${fails} will not match.`
    : `${leavesWords(spare)} over, but no whole set side by side: if one is spoilt, ${fails} will not match.`;
}

/** 'One board of at least 1483 × 200 and 41.2 mm thick (8/4)'. */
export function boardWords(
  { boards, length, width, thickness, trade }: BoardToBuy,
  { units }: Pick<Job, 'units'>,
): string {
  const size = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const many = boards === 1 ? 'One board' : `${boards} boards`;
  return `${many} of at least ${size(length)} × ${size(width)}, ${atLeast(thickness, units)} thick once flat${trade ? ` (${trade.name})` : ''}`;
}

/** What would help: an end match where panels are taller than the leaves, another way of working, a thinner blade or leaf, a thicker board. */
export function helpWith(job: Job, sawn: SawnBoard, faces: readonly WantedFace[], facts: Facts): string[] {
  const { ways, next } = facts;
  const now = sawn.sawn.leaves * sawn.ready.strips.count;
  // The least change first: of ways that give as many, the one nearest to what is done now.
  const better = ways
    .filter(({ leaves }) => leaves > now)
    .sort((a, b) => changes(a.way, sawn.way) - changes(b.way, sawn.way) || b.leaves - a.leaves)
    .slice(0, NAMED)
    .map(({ way, leaves }) => `Sawn ${wayWords(way)}: ${leavesWords(leaves)}.`);
  return [
    ...tooTall(job, sawn, faces),
    ...better,
    ...(next ? nextWords(job, sawn, next) : []),
    ...crosscutFirst(job, sawn),
  ];
}

const changes = (a: Way, b: Way): number =>
  Number(a.start !== b.start) + Number(a.dressed !== b.dressed) + Number(a.carrier !== b.carrier);

/** The exact figures at which one leaf more begins, each changed alone. */
function nextWords({ units, shop }: Job, { ready, way, sawn }: SawnBoard, next: NextLeaf): string[] {
  const { leaf, dressing, lastPiece } = shop.resaw;
  const more = ready.strips.count === 1 ? 'one more leaf' : `one more leaf of each of ${ready.strips.count} strips`;
  const finished = next.leaf === null ? 0 : next.leaf - leaf.sanding - ready.wedge.added;
  const figures = [
    ...(next.kerf !== null && next.kerf > 0 ? [`a kerf of at most ${atMost(next.kerf, units)}`] : []),
    ...(finished >= THINNEST ? [`leaves of at most ${atMost(finished, units)} finished`] : []),
    ...(way.dressed && next.dressing !== null && dressing > 0
      ? [`dressing that takes at most ${atMost(next.dressing, units)}`]
      : []),
    ...(!way.carrier && next.lastPiece !== null && lastPiece > 0
      ? [`a last piece of ${atMost(next.lastPiece, units)}`]
      : []),
    `a board ${atLeast(next.thickness - ready.flat, units)} thicker`,
  ];
  return sawn.leaves === 0 && figures.length === 0 ? [] : [`With ${listed(figures, 'or')}: ${more}.`];
}

/** A warped board cut to lengths before it is flattened loses less: said where that brings leaves. */
function crosscutFirst(job: Job, { board, ready, way, sawn }: SawnBoard): string[] {
  const tallest = Math.max(
    0,
    ...Object.values(job.doors).map(({ height, trim, ends }) => (height + 2 * trim) / (ends?.rows ?? 1)),
  );
  if (ready.warped === 0 || tallest === 0 || 2 * tallest > board.length || ready.strips.count > 1) return [];
  const [lengths, step] = [Math.floor(board.length / tallest), tallest + job.shop.kerf.fine];
  const flat = Math.min(
    ...Array.from({ length: lengths }, (_, i) =>
      flatThickness(board, [Math.min(i * step, board.length - tallest), Math.min(i * step + tallest, board.length)]),
    ),
  );
  const saw = { ...ready.saw, thickness: flat };
  const leaves = canBePlaned(saw, way) ? leavesBy(saw, way) : 0;
  return leaves > sawn.leaves
    ? [`Cut to ${lengths} lengths before it is flattened, it loses less to its warp: ${leavesWords(leaves)} of each.`]
    : [];
}

/** Panels that are taller than the leaves, with the end match that would make them. */
function tooTall({ units, doors }: Job, { board, stacks }: SawnBoard, faces: readonly WantedFace[]): string[] {
  const clear = Math.max(0, ...stacks.map(({ face }) => longestClear(face)));
  const tall = new Map(
    faces.filter(({ length, rows }) => length / rows > clear + 1e-6).map((face) => [face.door, face]),
  );
  const mm = (x: number) => formatLength(x, units, { unit: true });
  return [...tall.values()].map(({ door, length }) => {
    const name = doors[door]?.name ?? door;
    const rows = clear > 0 ? Math.ceil(length / clear - 1e-9) : Infinity;
    const offer =
      rows <= 4
        ? `End-matched from ${rows} lengths of ${mm(Math.ceil(length / rows))} it can be had: give it ${rows} rows under Tops and doors.`
        : 'No end match of four lengths or fewer makes it.';
    return `${name} is pressed ${mm(length)} tall, and the longest clear stretch of ${board.name} is ${mm(clear)}. ${offer}`;
  });
}
