import type { Look, RestUse, Way } from '../leaves';
import { formatLength, formatThin, type UnitSystem } from '../units';

/** What screen and paper say alike of a board to be resawn. */

const STARTS: Readonly<Record<Way['start'], string>> = {
  'one face': 'from one face',
  'both faces': 'from both faces in turn',
  halved: 'halved first',
};

/** 'halved first, not dressed between cuts, the last piece on a carrier board'. */
export const wayWords = ({ start, dressed, carrier }: Way): string =>
  [
    STARTS[start],
    dressed ? 'dressed between cuts' : 'not dressed between cuts',
    ...(carrier ? ['the last piece on a carrier board'] : []),
  ].join(', ');

const LOOKS: Readonly<Record<Look, string>> = {
  flat: 'flat-sawn: arches and ovals',
  rift: 'rift: straight lines, hardly any fleck',
  quarter: 'quarter-sawn: straight lines, with ray fleck where the wood has it',
};

/** The look to expect of the leaves, from edge to edge. */
export const lookWords = (look: readonly Look[]): string =>
  look.length === 1
    ? `The leaves will look ${LOOKS[look[0] as Look]}.`
    : `From edge to edge the leaves will look ${look.map((each) => LOOKS[each]).join('; then ')}.`;

const USES: Readonly<Record<RestUse['uses'][number], string>> = {
  backer: 'a backer',
  lipping: 'solid lipping',
  'drawer bottom': 'a small drawer bottom',
  'drawer side': 'a drawer side',
};

/** What the rest is good for. */
export function restWords({ clean, uses }: RestUse, units: UnitSystem): string {
  const thick = `${formatLength(clean, units, { unit: true })} once both its faces are clean`;
  if (clean === 0) return 'The rest is gone once both its faces are clean.';
  if (uses.length === 0) return `The rest is ${thick}: too thin for anything but test pieces.`;
  return `The rest is ${thick}: good for ${listed(
    uses.map((use) => USES[use]),
    'or',
  )}.`;
}

export const listed = (words: readonly string[], last: 'and' | 'or'): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`;

/** Finest step that is told of a figure to be kept to. */
const STEP: Readonly<Record<UnitSystem, number>> = { mm: 0.01, in: 0.0254 };

/** A figure to stay at or below, and one to reach: rounded to the side on which it still holds. */
export const atMost = (mm: number, units: UnitSystem): string =>
  formatThin(Math.floor(mm / STEP[units] + 1e-6) * STEP[units], units);
export const atLeast = (mm: number, units: UnitSystem): string =>
  formatThin(Math.ceil(mm / STEP[units] - 1e-6) * STEP[units], units);

/** '1 leaf', '3 leaves'. */
export const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;
export const leavesWords = (n: number): string => counted(n, 'leaf', 'leaves');
