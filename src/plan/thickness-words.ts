import { formatLength, formatShare, type UnitSystem } from '../units';
import type { CutFirst } from './before-flattening';
import type { BlankReport } from './report';
import type { ThicknessHelp } from './thickness-help';

/** What is said of a blank's thickness, on the screen and on paper alike. */

const tenths = (mm: number, units: UnitSystem): string =>
  formatLength(mm, units, { decimals: 1, denominator: 32, unit: true });
const bare = (mm: number, units: UnitSystem): string => formatLength(mm, units, { decimals: 1, denominator: 32 });

const FACES = { top: 'upper face', bottom: 'underside' } as const;

/** "Leave 2 % of the upper face low and gain 3.5": what a skip gains. */
export function skipWords(face: 'top' | 'bottom', share: number, gain: number, units: UnitSystem): string {
  return `leave ${formatShare(share, share < 0.01 ? 1 : 0)} of the ${FACES[face]} low and gain ${tenths(gain, units)}`;
}

/** What would help a blank that is too thin. */
export function helpWords({ length, skip, slabs }: ThicknessHelp, units: UnitSystem): string[] {
  const words = [
    ...(length === null
      ? []
      : [`A piece of it ${formatLength(length, units, { decimals: 0, unit: true })} long gets there.`]),
    ...(skip
      ? [`So does leaving ${formatShare(skip.share, skip.share < 0.01 ? 1 : 0)} of its ${FACES[skip.face]} low.`]
      : []),
    ...slabs.map(({ name, finished }) => `${name} would give a piece of this size at ${tenths(finished, units)}.`),
  ];
  return words.length > 0
    ? words
    : ['Nothing that was tried gets there: half its length, a tenth of a face left low, the other slabs of the job.'];
}

/** What the thinner half of a seamed top costs this one. */
export function ruledWords({ name, finished, loses }: NonNullable<BlankReport['ruledBy']>, units: UnitSystem): string {
  return `${name} rules: it gives ${tenths(finished, units)} at most, so this one gives up ${tenths(loses, units)}.`;
}

/** The ways to cut a slab before it is flattened, with what each finishes at. */
export function cutFirstRows(
  { whole, crosscut, ripped, both }: CutFirst,
  units: UnitSystem,
): { readonly way: string; readonly finished: string; readonly gain: string }[] {
  return [
    { way: 'flattened whole', mm: whole },
    { way: 'crosscut first', mm: crosscut },
    { way: 'ripped first', mm: ripped },
    { way: 'both first, as planned', mm: both },
  ].map(({ way, mm }) => ({
    way,
    finished: bare(mm, units),
    gain: mm - whole < 0.05 ? '–' : `+ ${bare(mm - whole, units)}`,
  }));
}

/** How the rough-cut piece still bows, cups and twists. */
export function warpWords({ warp: { bow, cup, twist } }: CutFirst, units: UnitSystem): string {
  const high = (mm: number, what: string): string =>
    Math.abs(mm) < 0.05 ? '' : mm > 0 ? `, ${what} high` : `, ${what} low`;
  return [
    `bow ${tenths(Math.abs(bow), units)}${high(bow, 'ends')}`,
    `cup ${tenths(Math.abs(cup), units)}${high(cup, 'edges')}`,
    `twist ${tenths(Math.abs(twist), units)}`,
  ].join('; ');
}

/** What to do where the bit does not reach down to a thin board. */
export function tooLowWords(tooLow: number, units: UnitSystem): string {
  return `The bit ends ${tenths(tooLow, units)} above it: lay the blank on a flat board at least that thick.`;
}
