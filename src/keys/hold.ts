import type { KeySize } from '../job';
import { findSpecies, type Species, type Strength, strength } from '../wood';
import type { Hold, KeysOutput } from './io';
import { flareOf } from './shape';

/** A key that holds: its size and how deep it goes. */
export interface Held {
  readonly size: KeySize;
  readonly depth: number;
}

const WORDS =
  'Means of small clear pieces, for comparing one layout with another: guidance, no load that anyone may rely on.';

/** What each place of one key carries, N: the mean, or what one piece in twenty falls short of. Null where the handbook has no figure. */
type Links = Readonly<Record<'neck' | 'wings' | 'bearing' | 'wood', number | null>>;

/** Whether a mean or a fifth percentile is meant. */
type Level = (s: Strength) => number;
const MEAN: Level = ({ mean }) => mean;
const FIFTH: Level = ({ fifth }) => fifth;

/**
 * Crushing strength at an angle to the grain by Hankinson's formula (Wood Handbook ch. 5), N/mm2.
 * @param along strength along the grain @param across strength across it @param angle radians between load and grain
 */
export function hankinson(along: number, across: number, angle: number): number {
  return (along * across) / (along * Math.sin(angle) ** 2 + across * Math.cos(angle) ** 2);
}

/**
 * What one key carries, link by link. A key gives way at its waist in tension along its grain, or its wings shear off along the grain on two
 * planes a half length long and the pocket deep. Its flanks press on the pocket's square to themselves: nearly along the slab's grain, nearly across
 * the key's own, and the softer is crushed, on (end - waist) x depth as seen along the key. The top pulls on each wing through wood beyond the
 * key's end, loaded across its grain over the end's width and the pocket's depth; no spread along the grain is counted. (Model derived, no source;
 * strengths: Wood Handbook.)
 */
function linksOf({ size, depth }: Held, top: Species, key: Species, level: Level): Links {
  const of = (species: Species, kind: Parameters<typeof strength>[1]): number | null => {
    const found = strength(species, kind);
    return found && level(found);
  };
  const flare = flareOf(size);
  const crushed = (species: Species, angle: number): number | null => {
    const [along, across] = [of(species, 'compression parallel'), of(species, 'compression perpendicular')];
    return along === null || across === null ? null : hankinson(along, across, angle);
  };
  const [inTop, inKey] = [crushed(top, flare), crushed(key, Math.PI / 2 - flare)];
  const softer = inTop === null || inKey === null ? null : Math.min(inTop, inKey);
  return {
    neck: times(of(key, 'tension parallel'), size.waist * depth),
    wings: times(of(key, 'shear parallel'), size.length * depth),
    bearing: times(softer, (size.end - size.waist) * depth),
    wood: times(of(top, 'tension perpendicular'), size.end * depth),
  };
}

const times = (stress: number | null, area: number): number | null => (stress === null ? null : stress * area);
const lesser = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? null : Math.min(a, b);
const total = (values: readonly (number | null)[]): number | null =>
  values.reduce<number | null>((sum, value) => (sum === null || value === null ? null : sum + value), 0);
const ratio = (a: number | null, b: number | null): number | null => (a !== null && b !== null && b > 0 ? a / b : null);

/**
 * What keys hold across their cracks, in N, beside what the wood holds behind them and what it held before it cracked. The wood behind the
 * ends is usually the weak link: a ratio over 1 says that the top would tear before the keys. Keys and wood as means and as the fifth percentile of
 * each (scatter: Wood Handbook Table 5-6), since keys of one blank may all be weak together.
 * @param broken mm2 of wood that the cracks have parted; 0 where it is not known
 * @throws InputProblem for an unknown species
 */
export function holdOf(
  keys: readonly Held[],
  species: string,
  keySpecies: string | undefined,
  broken = 0,
): KeysOutput['hold'] {
  const top = findSpecies(species, '/species');
  const own = keySpecies === undefined ? top : findSpecies(keySpecies, '/keySpecies');
  const links = keys.map((key) => linksOf(key, top, own, MEAN));
  const weak = keys.map((key) => linksOf(key, top, own, FIFTH));
  const sum = (of: readonly Links[]): Pick<Hold, 'keys' | 'wood'> => ({
    keys: total(of.map(({ neck, wings }) => lesser(neck, wings))),
    wood: total(of.map(({ wood }) => wood)),
  });
  const { keys: held, wood } = sum(links);
  const unbroken = times(strength(top, 'tension perpendicular')?.mean ?? null, broken);
  const bearing = total(links.map((link) => link.bearing));
  return {
    keys: held,
    wood,
    ratio: ratio(held, wood),
    bearing,
    low: sum(weak),
    unbroken,
    share: ratio(lesser(held, wood), unbroken),
    weakest: weakestOf(links),
    note: [
      ...unknown(own, held, 'shear along the grain'),
      ...unknown(top, wood, 'tension across the grain'),
      ...(bearing === null ? ['Crushing of the flanks is not known for both woods, and is left out.'] : []),
      WORDS,
    ].join(' '),
  };
}

/** The link that carries least over all keys; null without keys or where neck, wings or wood are not known. */
function weakestOf(links: readonly Links[]): Hold['weakest'] {
  if (links.length === 0) return null;
  const sums = (['neck', 'wings', 'bearing', 'wood'] as const).map((link) => ({
    link,
    newtons: total(links.map((each) => each[link])),
  }));
  if (sums.some(({ link, newtons }) => newtons === null && link !== 'bearing')) return null;
  return sums.reduce((a, b) => ((b.newtons ?? Infinity) < (a.newtons ?? Infinity) ? b : a)).link;
}

const unknown = ({ name }: Species, value: number | null, what: string): string[] =>
  value === null ? [`The handbook has no ${what} for ${name}, and none is guessed.`] : [];
