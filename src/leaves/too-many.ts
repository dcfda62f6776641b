import { InputProblem } from '../units';
import { sayMm } from './micrometres';

/** No board gives so many leaves: a length was given in another unit. It also keeps the list of cuts short enough to hold. */
const MOST = 10_000;

/**
 * Refuses a board that is too thick for its leaves. Whole micrometres.
 * @param where pointer to the board's thickness
 * @throws InputProblem when more leaves than any board gives would come of it
 */
export function refuseTooMany(thickness: number, leaf: number, kerf: number, where: string): void {
  if (thickness <= MOST * (leaf + kerf)) return;
  throw new InputProblem(
    `A board ${sayMm(thickness / 1000)} thick would give more than ${MOST} leaves of ${sayMm(leaf / 1000)}.`,
    where,
    "Check the board's thickness and the leaf; all lengths are in mm.",
  );
}
