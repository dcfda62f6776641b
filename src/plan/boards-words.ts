import type { BudgetLine, Look, ResawCut, RestUse, Way } from '../leaves';
import { formatLength, formatThin, listed, type UnitSystem } from '../units';

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

/** Finest step that is told of a figure to be kept to. */
const STEP: Readonly<Record<UnitSystem, number>> = { mm: 0.01, in: 0.0254 };

/** A figure to stay at or below, and one to reach: rounded to the side on which it still holds. */
export const atMost = (mm: number, units: UnitSystem): string =>
  formatThin(Math.floor(mm / STEP[units] + 1e-6) * STEP[units], units);
export const atLeast = (mm: number, units: UnitSystem): string =>
  formatThin(Math.ceil(mm / STEP[units] - 1e-6) * STEP[units], units);

/** Lengths at the saw: hundredths of a millimetre or thousandths of an inch, as a calliper reads them. */
export const sawLength = (mm: number, units: UnitSystem): string =>
  units === 'mm' ? formatLength(mm, units, { decimals: 2, keepZeros: true }) : formatThin(mm, units);

const ITEMS: Readonly<Record<BudgetLine['item'], (count: number) => string>> = {
  warp: () => 'flattening: cup, bow, twist',
  'outer face': () => 'planed off the outer face',
  back: () => 'planed off the back',
  kerfs: (n) => counted(n, 'saw cut', 'saw cuts'),
  dressing: (n) => `dressing, ${counted(n, 'time', 'times')}`,
  sanding: (n) => `sanding of ${leavesWords(n)}`,
  drift: (n) => `drift of the blade in ${leavesWords(n)}`,
  over: () => 'over in a last leaf',
  rest: (n) => (n === 1 ? 'rest' : `${n} rests`),
  leaves: (n) => counted(n, 'finished leaf', 'finished leaves'),
};

/**
 * The account of a board's thickness as it is printed, its sum last. Each line is rounded so that the printed ones add up too: what one loses the
 * next one gets.
 */
export function budgetRows(lines: readonly BudgetLine[], units: UnitSystem): (readonly [what: string, mm: string])[] {
  const step = units === 'mm' ? 0.01 : 0.0254;
  let [exact, printed] = [0, 0];
  const rows = lines.map((line): readonly [string, string] => {
    exact += line.mm;
    const upTo = Math.round(exact / step);
    const own = (upTo - printed) * step;
    printed = upTo;
    return [ITEMS[line.item](line.count), sawLength(own, units)];
  });
  return [...rows, ['the board', sawLength(printed * step, units)]];
}

const FACES: Readonly<Record<ResawCut['face'], string>> = { outer: 'outer face', back: 'back', fresh: 'fresh face' };

/** What a cut frees: 'leaf 3', 'leaf 9 off the back', 'leaf 4 off the outer half', 'two halves'. */
export function freesWords({ leaf, of, face }: ResawCut, { start }: Way): string {
  if (leaf === null) return 'two halves';
  if (start === 'one face') return `leaf ${leaf}`;
  return `leaf ${leaf} off the ${of === 'board' ? FACES[face] : of}`;
}

/** '1 leaf', '3 leaves'. */
export const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;
export const leavesWords = (n: number): string => counted(n, 'leaf', 'leaves');
