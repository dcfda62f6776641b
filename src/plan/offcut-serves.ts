import { type Board, type Door, type Job, type Top, wantedTops } from '../job';
import { handOut, wantedFaces } from '../leaves';
import { listed } from '../units';
import { pieceName } from './piece-name';
import type { PlanReport } from './report';
import { sawBoard, stacksOf } from './sawn-board';

/** A clear piece left over by a plan, as another job would look at it. Lengths in mm. */
export interface SparePiece {
  /** 'O1 of Slab 2'; of several pieces in one offcut 'O1.2 of Slab 2'. */
  readonly name: string;
  readonly species: string;
  /** Along the grain and across it. */
  readonly size: readonly [length: number, width: number];
  /** Once flat, and finished after all reserves; null where the slab has no readings. */
  readonly thickness: { readonly flat: number; readonly finished: number } | null;
}

/** What a spare piece would do for a job. */
export interface Service {
  readonly piece: SparePiece;
  readonly as: 'top' | 'strip' | 'panels' | 'keys';
  /** Name of the top, door or key size. */
  readonly name: string;
  /** How many of them it gives, no more than are wanted; of panels their faces, fronts and backs alike. */
  readonly count: number;
  /** No thickness was read, so that only length and width are sure. */
  readonly unsure: boolean;
}

/** The clear pieces that a plan leaves, the largest first. */
export function sparePieces(job: Pick<Job, 'flitches'>, { slabs }: Pick<PlanReport, 'slabs'>): SparePiece[] {
  const pieces = slabs.flatMap(({ flitch, name, offcuts }) =>
    offcuts.flatMap(({ pieces: clear }, i) =>
      clear.map(
        ({ size, thickness }, k): SparePiece => ({
          name: `${pieceName(i, k, clear.length)} of ${name}`,
          species: job.flitches[flitch]?.species ?? '',
          size,
          thickness,
        }),
      ),
    ),
  );
  return pieces.sort((a, b) => b.size[0] * b.size[1] - a.size[0] * a.size[1]);
}

/** Whether it is thick enough, as far as anybody knows. */
const thick = ({ thickness }: SparePiece, least: number): boolean => thickness === null || thickness.finished >= least;

/** A whole top with straight edges, or a strip behind a seam of one. A live edge is the slab's own, and a sawn piece has none. */
function forTop(piece: SparePiece, top: Top): Service['as'] | null {
  const [length, width] = piece.size;
  const plain = top.shape === null && top.front === 'straight' && top.back === 'straight';
  if (length < top.length || !thick(piece, top.thickness)) return null;
  if (plain && width >= top.depth[0]) return 'top';
  return top.seams > 0 && top.shape === null && width >= top.leastStrip ? 'strip' : null;
}

/** Panel faces of a door whose leaves it gives: sawn like a board of the job, by the usual way of working, and handed out as boards' leaves are. */
function faces({ size: [length, width], thickness }: SparePiece, door: Door, job: Job): number {
  const board: Board = {
    id: 'offcut',
    name: '',
    species: '',
    length,
    width,
    // Nothing read: a piece gives at least the one leaf that it is itself, if anything.
    thickness: thickness?.flat ?? 1,
    moisture: 0,
    price: null,
    warp: { bow: 0, cup: 0, twist: 0, sigma: 0 },
    leaves: {},
  };
  if (board.thickness <= 0) return 0;
  const { ready, stacks } = sawBoard(job, board);
  const sawn = thickness ? stacks : stacksOf(job, board, ready, 1);
  return handOut(wantedFaces([door]), [sawn], job.shop.kerf.fine)[0]?.given ?? 0;
}

/** How many times a length goes into another with a kerf between. */
const times = (whole: number, part: number, kerf: number): number => Math.floor((whole + kerf) / (part + kerf));

/**
 * What spare pieces would do for another job: its tops, the leaves of its doors and drawer fronts, and blanks for its keys, whose grain runs along
 * them. Each line stands for itself: a piece that serves two ends serves one of them.
 */
export function servesFor(pieces: readonly SparePiece[], job: Job): Service[] {
  const { shop } = job;
  return pieces.flatMap((piece): Service[] => {
    const unsure = piece.thickness === null;
    const tops = wantedTops(job).flatMap((top): Service[] => {
      const as = forTop(piece, top);
      return as ? [{ piece, as, name: top.name, count: 1, unsure }] : [];
    });
    const panels = Object.values(job.doors).flatMap((door): Service[] => {
      const count = faces(piece, door, job);
      return count > 0 ? [{ piece, as: 'panels', name: door.name, count, unsure }] : [];
    });
    const species = shop.keySpecies ?? piece.species;
    const keys =
      species !== piece.species
        ? []
        : shop.keySizes.flatMap(({ id, length, end, depths }): Service[] => {
            const count = times(piece.size[0], length, shop.kerf.fine) * times(piece.size[1], end, shop.kerf.fine);
            return count > 0 && thick(piece, Math.min(...depths))
              ? [{ piece, as: 'keys', name: id, count, unsure }]
              : [];
          });
    return [...tops, ...panels, ...keys];
  });
}

/**
 * What one piece would do, as one would say it: 'the whole top Shelf, 4 panel faces for Drawers or keys (72 small, 36 medium or 21 large)'.
 * @param services all of one piece
 */
export function servicesWords(services: readonly Service[]): string {
  const wood = services.flatMap(({ as, name, count }) => {
    if (as === 'top') return `the whole top ${name}`;
    if (as === 'strip') return `a strip of ${name}`;
    return as === 'panels' ? `${count} panel ${count === 1 ? 'face' : 'faces'} for ${name}` : [];
  });
  const keys = services.flatMap(({ as, name, count }) => (as === 'keys' ? `${count} ${name}` : []));
  const all = listed([...wood, ...(keys.length > 0 ? [`keys (${listed(keys, 'or')})`] : [])], 'or');
  return services.some(({ unsure }) => unsure) ? `if it is thick enough: ${all}` : all;
}
