import { bounds, intersection, largestRing, type Polygon, rectangle } from '../geometry';
import { type Board, type Defect, emptyFace, type FaceName, type Job } from '../job';
import { type LookAhead, lookAhead } from '../leaves';
import type { FacePicture } from '../raster';
import type { Control } from '../search';
import { benchLeaves, leafKey } from './bench';
import { sawBoard } from './sawn-board';

/** Leaves before any leaf exists: how those that a board will give are likely to look. All of it is an estimate, none of it is kept in the job. */

/** A leaf to come. */
export interface LeafAhead {
  /** The board, or the strip of it, that it is sawn from. */
  readonly board: string;
  readonly boardName: string;
  /** Place in sawing order, from 1. */
  readonly place: number;
  /** Of its outer face below the board's, mm. */
  readonly depth: number;
  /** Whether the lines of its figure can be trusted: else only their run and spacing. */
  readonly trusted: boolean;
  readonly outline: Polygon<'face'>;
  readonly defects: readonly Defect[];
  readonly picture: FacePicture;
}

/** The leaves of one board, and how far the estimate can be trusted. */
export interface LeavesAhead extends Pick<LookAhead, 'likeness' | 'reach'> {
  readonly leaves: readonly LeafAhead[];
}

/** A board seen as one thick leaf, for its faces to be read as a leaf's are. */
const WHOLE = 'board';

/** Key of a board's own face, for pictures. */
export const boardFaceKey = (board: string, face: FaceName): string => leafKey(board, WHOLE, face);

/** Why no look ahead can be had of a board yet, for the maker; null where it can. */
export function lacksForLookAhead({ faces, ringDegrees }: Board): string | null {
  if (!faces?.top.picture || !faces.bottom.picture) return 'It takes a photo of each of its two faces.';
  if (!ringDegrees?.some((degrees) => degrees !== null))
    return 'It takes the angle of the rings at the end grain, best near both edges and in the middle.';
  return null;
}

/**
 * How the leaves of a board are likely to look, worked the way it is set to be worked.
 * @param pictures of its two faces, by `boardFaceKey`
 * @returns null where `lacksForLookAhead` says what is missing, or the board gives no leaf
 * @throws Cancelled
 */
export async function leavesAhead(
  job: Job,
  board: Board,
  pictures: ReadonlyMap<string, FacePicture>,
  control: Control,
): Promise<LeavesAhead | null> {
  if (!board.faces || lacksForLookAhead(board)) return null;
  const whole = { ...board, leaves: { [WHOLE]: { id: WHOLE, place: 1, faces: board.faces } } };
  const [bench] = benchLeaves({ boards: { [board.id]: whole } }, pictures);
  if (!bench?.top.picture || !bench.bottom?.picture) return null;
  const top = { ...bench.top, picture: bench.top.picture };
  const bottom = { ...bench.bottom, picture: bench.bottom.picture };
  const { ready, sawn } = sawBoard(job, board);
  const depths = sawn.slices.filter(({ what }) => what === 'leaf').map(({ from }) => from);
  if (depths.length === 0) return null;
  const { thickness, ringDegrees: endGrain = [] } = board;
  const spoilt = spoiltOf(board, top.outline);
  // What is seen on the nearer face is taken to go in so far; what goes through is on every leaf, as what nobody may use.
  const defectsAt = (share: number): Defect[] =>
    [
      ...top.defects.filter(({ through }) => through || share <= 0.5),
      ...bottom.defects.filter(({ through }) => through || share > 0.5),
      ...spoilt,
    ].map((defect, i) => ({ ...defect, id: `ahead-${i + 1}`, permit: defect.permit ?? 'avoid' }));
  const seen = await lookAhead({ top, bottom, lie: 'same', thickness, endGrain }, depths, control);
  if (!seen) return null;
  const { minX, maxX, minY } = bounds(top.outline);
  const { count, width } = ready.strips;
  const leaves = Array.from({ length: count }, (_, k) => {
    const from = minY + k * (width + job.shop.kerf.fine);
    const strip = count > 1 ? rectangle<'face'>(minX, from, maxX, from + width) : top.outline;
    const outline = largestRing(intersection([{ outer: strip, holes: [] }], [{ outer: top.outline, holes: [] }]));
    if (!outline) return [];
    const named =
      count > 1
        ? { board: `${board.id}-strip-${k + 1}`, boardName: `${board.name}, strip ${k + 1}` }
        : { board: board.id, boardName: board.name };
    return seen.faces.map(({ depth, picture }, i): LeafAhead => {
      const near = Math.min(depth, thickness - depth);
      return {
        ...named,
        place: i + 1,
        depth,
        trusted: near <= seen.reach,
        outline,
        picture,
        defects: defectsAt(depth / thickness),
      };
    });
  }).flat();
  return { likeness: seen.likeness, reach: seen.reach, leaves };
}

function spoiltOf({ spoilt = [] }: Board, outline: Polygon<'face'>): Defect[] {
  const { minX, minY, maxY } = bounds(outline);
  return spoilt.map(({ id, ...one }) => {
    const polygon: Polygon<'face'> =
      'polygon' in one
        ? one.polygon.map(([x, y]) => [minX + x, minY + y])
        : rectangle<'face'>(minX + one.from, minY, minX + one.to, maxY);
    return { id, kind: 'void', permit: 'avoid', polygon };
  });
}

/** A leaf to come with the name of its picture: what a layout of doors on it needs. */
export type PicturedAhead = Omit<LeafAhead, 'picture'> & {
  readonly file: string;
  readonly picture: {
    readonly mmPerPx: number;
    readonly x0: number;
    readonly y0: number;
    readonly width: number;
    readonly height: number;
  };
};

/** The id of a leaf to come. */
export const aheadId = (place: number): string => `ahead-${place}`;

/** The job as it would be had its boards been sawn and photographed: doors are laid on it as on real leaves. It is never saved. */
export function jobAhead(job: Job, leaves: readonly PicturedAhead[]): Job {
  const boards: Record<string, Board> = {};
  for (const { board, boardName, place, outline, defects, file, picture } of leaves) {
    const of = Object.values(job.boards).find(({ id }) => board === id || board.startsWith(`${id}-strip-`));
    if (!of) continue;
    boards[board] ??= { ...of, id: board, name: boardName, leaves: {} };
    const top = {
      ...emptyFace(),
      outline: { outer: outline, holes: [] },
      defects: Object.fromEntries(defects.map((defect) => [defect.id, defect])),
      picture: { ...picture, file },
    };
    (boards[board] as Board).leaves[aheadId(place)] = {
      id: aheadId(place),
      place,
      faces: { top, bottom: emptyFace() },
    };
  }
  return { ...job, boards, sets: {}, keptSet: null };
}
