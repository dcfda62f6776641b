import type { Job } from '../../../job';
import type { LeafUse, PieceReport } from '../../../plan';

/** Leaves and their pieces in words. */

/** `board leaf`, by which sets name leaves. */
export const leafName = ({ board, leaf }: { board: string; leaf: string }): string => `${board} ${leaf}`;

/** A leaf as it is chosen from a list. */
export function leafSays({ place, boardName, uses, without }: LeafUse, several: boolean): string {
  const used = [...new Set(uses.map(({ panel, side }) => `${panel}${side === 'back' ? ' back' : ''}`))].join(', ');
  return `${place}${several ? ` of ${boardName}` : ''}${without ? ' (left out)' : used ? ` (front ${used})` : ' (spare)'}`;
}

const FLIPS = {
  none: '',
  over: ', turned over',
  end: ', end for end',
  'over and end': ', over and end for end',
} as const;

/** How a piece's leaf lies. */
export const liesSays = ({ face, flip }: Pick<PieceReport, 'face' | 'flip'>): string =>
  `${face === 'top' ? 'outer' : 'inner'} face${FLIPS[flip]}`;

/** What the check says, as sentences: boards and leaves called by their names and numbers. */
export function inWords({ boards }: Pick<Job, 'boards'>, words: string): string {
  const names = Object.values(boards).flatMap((board) => [
    ...Object.values(board.leaves).map(({ id, place }) => [id, String(place)] as const),
    [board.id, board.name] as const,
  ]);
  // Longer ids first: one may begin with another.
  const said = names.sort(([a], [b]) => b.length - a.length).reduce((so, [id, name]) => so.replaceAll(id, name), words);
  return said.replace(/^./, (first) => first.toUpperCase()).replace(/\.?$/, '.');
}
