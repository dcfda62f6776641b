import { type Control, WorkBudget } from '../search';
import { InputProblem } from '../units';
import type { Arguments } from './arguments';
import type { Io } from './io';

/** The options of every command that searches. */
export const LIMITS = {
  work: { value: 'N', about: "Do at most N units of work, the search's own: repeatable." },
  seconds: { value: 'N', about: 'Search for about N seconds at most: not repeatable.' },
} as const;

/** Progress is told at most this often, ms. */
const TELL_EVERY = 1000;

/**
 * How a search hears of its limits and of Ctrl+C, and tells how far it is: one line of standard error at a time, `40 % seams`.
 * @throws InputProblem when both `--work` and `--seconds` are given, or one is no number
 */
export function watch(args: Arguments, io: Io, tells: boolean): Control {
  const [work, seconds] = [args.whole('work', 1), args.number('seconds', 0)];
  if (work !== undefined && seconds !== undefined)
    throw new InputProblem('Both --work and --seconds are given.', '--seconds', 'Give one of them.');
  const began = performance.now();
  const timeIsUp = seconds === undefined ? undefined : () => performance.now() - began > seconds * 1000;
  let [told, line] = [0, ''];
  return {
    budget: new WorkBudget(work, timeIsUp),
    progress(fraction, note = '') {
      const now = performance.now();
      const next = `${Math.floor(fraction * 100)} %${note && ` ${note}`}`;
      if (!tells || next === line || (now - told < TELL_EVERY && fraction < 1)) return;
      [told, line] = [now, next];
      io.tell(next);
    },
    cancelled: () => io.stopped(),
    breathe: () => new Promise((resolve) => setImmediate(resolve)),
  };
}
