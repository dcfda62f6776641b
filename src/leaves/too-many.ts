import { formatLength, InputProblem } from '../units';

/** No board gives so many leaves: a length was given in another unit. It also keeps the list of cuts short enough to hold. */
const MOST = 10_000;

/**
 * Refuses a board that is too thick for its leaves. Whole micrometres.
 * @param where pointer to the board's thickness
 * @throws InputProblem when more leaves than any board gives would come of it
 */
export function refuseTooMany(thickness: number, leaf: number, kerf: number, where: string): void {
  if (thickness <= MOST * (leaf + kerf)) return;
  const mm = (x: number) => formatLength(x / 1000, 'mm', { decimals: 3, unit: true, as: 'typed' });
  throw new InputProblem(
    `A board ${mm(thickness)} thick would give more than ${MOST} leaves of ${mm(leaf)}.`,
    where,
    "Check the board's thickness and the leaf; all lengths are in mm.",
  );
}
