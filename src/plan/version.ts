import type { PlanReport } from './report';

/** Without I, L, O and U, so that a mark read aloud in the shop is not misheard (Crockford's base 32, from memory). */
const DIGITS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/**
 * Four letters and digits that tell two states of a plan apart, so that nobody cuts by the sheet of an older one: the same for the same
 * cuts, pieces, marks, keys and leaves, to 0.01 mm; a changed one shares them once in a million (FNV-1a, 32 bits).
 */
export function planVersion({ slabs, tops, boards, sets }: PlanReport): string {
  const stands = {
    slabs: slabs.map(({ slab, face, outline, blanks, cuts, marks }) => [
      slab,
      face,
      outline,
      marks,
      blanks.map(({ id, rough, finished, wanted }) => [id, rough, finished, wanted]),
      cuts.map(({ number, line, kerf }) => [number, line, kerf]),
    ]),
    tops: tops.map(({ id, outline, size, keys, lines }) => [id, outline, size, keys, lines.holes]),
    boards: boards.map(({ id, cuts }) => [id, cuts]),
    sets: sets.map(({ fronts }) => fronts),
  };
  const text = JSON.stringify(stands, (_, value) => (typeof value === 'number' ? Math.round(value * 100) || 0 : value));
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return Array.from({ length: 4 }, (_, k) => DIGITS[(hash >>> (5 * k + 12)) & 31]).join('');
}
