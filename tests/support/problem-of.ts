import { InputProblem } from '../../src/units';

/** The problem that some work throws; a fault of ours goes on as it is, and so does work that finds nothing wrong. */
export const problemOf = (work: () => unknown): InputProblem => {
  try {
    work();
  } catch (fault) {
    if (fault instanceof InputProblem) return fault;
    throw fault;
  }
  throw new Error('nothing was wrong');
};
