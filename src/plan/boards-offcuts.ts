import { bounds, type Polygon } from '../geometry';
import type { Board, Job, Slab } from '../job';
import { type BoardToBuy, boardsToBuy, handOut, USUAL_WAY, wantedFaces } from '../leaves';
import { ringAngleDegrees } from '../wood';
import { pieceName } from './piece-name';
import { pithPlace } from './pith-place';
import type { PlanReport } from './report';
import { sawBoard } from './sawn-board';

/** A clear piece of an offcut that leaves could be sawn from. */
export interface OffcutForLeaves {
  /** 'O1 of Slab 2'. */
  readonly name: string;
  /** As a board of the job, once flattened by itself; null where its slab has no readings: no reading, no thickness. */
  readonly board: Omit<Board, 'id'> | null;
  readonly size: readonly [length: number, width: number];
  readonly leaves: number;
  /** Panel faces of the doors that its leaves would give, by themselves. */
  readonly given: number;
}

/** Digits below a tenth of a millimetre are none that a saw keeps. */
const tenth = (mm: number): number => Math.floor(mm * 10) / 10;

/** Clear pieces that the plan leaves over, as stock for leaves: those that give any first, the most first. */
export function offcutsForLeaves(job: Job, { slabs }: Pick<PlanReport, 'slabs'>): OffcutForLeaves[] {
  const faces = wantedFaces(Object.values(job.doors));
  const pieces = slabs.flatMap(({ flitch, slab, face, name: slabName, offcuts }) => {
    const log = job.flitches[flitch];
    const own = log?.slabs[slab];
    return offcuts.flatMap(({ pieces: clear }, i) =>
      clear.map(({ size, thickness, polygon }, k): OffcutForLeaves => {
        const name = `${pieceName(i, k, clear.length)} of ${slabName}`;
        if (!thickness || !log || !own || thickness.flat < 1) return { name, board: null, size, leaves: 0, given: 0 };
        const rings = face === 'top' ? ringsOf(pithPlace(log, own), own, polygon) : null;
        const board: Omit<Board, 'id'> = {
          name,
          species: log.species,
          length: tenth(size[0]),
          width: tenth(size[1]),
          thickness: tenth(thickness.flat),
          moisture: own.moisture ?? log.moisture,
          // Paid with its slab.
          price: 0,
          warp: { bow: 0, cup: 0, twist: 0, sigma: 0 },
          ...(rings && { ringDegrees: rings }),
          offcut: { flitch, slab, name },
          leaves: {},
        };
        const { ready, sawn, stacks } = sawBoard(job, { ...board, id: 'offcut' });
        const given = handOut(faces, [stacks], job.shop.kerf.fine)[0]?.given ?? 0;
        return { name, board, size, leaves: sawn.leaves * ready.strips.count, given };
      }),
    );
  });
  return pieces.sort(
    (a, b) => b.given - a.given || b.leaves - a.leaves || b.size[0] * b.size[1] - a.size[0] * a.size[1],
  );
}

/** Angles of the rings at both edges and the middle of a piece, where the log tells where its pith ran. */
function ringsOf(
  pith: ReturnType<typeof pithPlace>,
  { thickness }: Slab,
  polygon: Polygon<'face'>,
): [number, number, number] | null {
  if (!pith) return null;
  const { minY, maxY } = bounds(polygon);
  const deep = -(thickness ?? 0) / 2;
  const at = (share: number) => Math.round(ringAngleDegrees(pith, minY + share * (maxY - minY), deep));
  return [at(0.1), at(0.5), at(0.9)];
}

/** Whether a board that was an offcut is none of the plan any more. */
export const isGone = ({ offcut }: Pick<Board, 'offcut'>, offcuts: readonly OffcutForLeaves[]): boolean =>
  offcut !== undefined && !offcuts.some(({ name }) => name === offcut.name);

/** Boards that would do for all doors of the job with the shop's spare leaves, by the usual way of working, the widest leaves first. */
export const boardsForDoors = (job: Job): BoardToBuy[] =>
  boardsToBuy(wantedFaces(Object.values(job.doors)), {
    shop: job.shop,
    way: USUAL_WAY,
    spare: job.shop.resaw.spareLeaves ?? 1,
  });
