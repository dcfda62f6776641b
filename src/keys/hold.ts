import type { KeySize } from '../job';
import { findSpecies, type Species, strength } from '../wood';
import type { KeysOutput } from './io';

/** A key that holds: its size and how deep it goes. */
interface Held {
  readonly size: KeySize;
  readonly depth: number;
}

const WORDS =
  'Means of small clear pieces, for comparing one layout with another: guidance, no load that anyone may rely on.';

/**
 * What the keys hold across their cracks, in N, beside what the wood holds behind them.
 *
 * A key gives way at its waist in tension along its grain, or its wings shear off along the grain on two planes a half length long and the
 * pocket deep; the lesser counts. The top pulls on each wing through wood beyond the key's end, loaded across its grain over the end's
 * width and the pocket's depth; no spread along the grain is counted. (Model derived, no source; strengths: Wood Handbook.) This is
 * usually the weak link: a ratio over 1 says that the top would tear before the keys.
 */
export function holdOf(keys: readonly Held[], species: string, keySpecies: string | undefined): KeysOutput['hold'] {
  const top = findSpecies(species, '/species');
  const own = keySpecies === undefined ? top : findSpecies(keySpecies, '/keySpecies');
  const neck = strength(own, 'tension parallel');
  const shear = strength(own, 'shear parallel');
  const across = strength(top, 'tension perpendicular');
  const held =
    neck && shear
      ? keys.reduce(
          (sum, { size, depth }) => sum + Math.min(neck.mean * size.waist * depth, shear.mean * size.length * depth),
          0,
        )
      : null;
  const wood = across ? keys.reduce((sum, { size, depth }) => sum + across.mean * size.end * depth, 0) : null;
  return {
    keys: held,
    wood,
    ratio: held !== null && wood !== null && wood > 0 ? held / wood : null,
    note: [
      ...unknown(own, held, 'shear along the grain'),
      ...unknown(top, wood, 'tension across the grain'),
      WORDS,
    ].join(' '),
  };
}

const unknown = ({ name }: Species, value: number | null, what: string): string[] =>
  value === null ? [`The handbook has no ${what} for ${name}, and none is guessed.`] : [];
