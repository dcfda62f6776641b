import type { KeyRules } from '../job';
import { formatLength } from '../units';

/** Keys along one crack: where they stand, in mm from its first tip, and what could not be kept. */
export interface Spaced {
  readonly places: readonly number[];
  readonly missing: readonly string[];
}

const mm = (length: number): string => formatLength(length, 'mm', { unit: true, as: 'typed' });

/** Step of the search for the nearest clear place beside one that is not, mm. */
const STEP = 1;
const SLACK = 1e-9;

/** `spaces + 1` places from `first` to `last`, equally far apart. */
const evenly = (first: number, last: number, spaces: number): number[] =>
  Array.from({ length: spaces + 1 }, (_, i) => first + ((last - first) * i) / spaces);

/**
 * Keys spaced evenly along a crack: the outer two at the rule's distance from the tips, the others at equal distances of at most the
 * rule's spacing. A crack too short for two gets one in its middle. If a place is not clear, as many keys more as the least spacing
 * allows are tried; failing that the even row is kept and each key that is not clear moves to the nearest place that is, or is left out.
 * @param length of the crack, mm
 * @param key the key's length, mm
 * @param objection why a key may not stand `s` mm along, or null
 */
export function spaced(
  length: number,
  key: number,
  rules: Pick<KeyRules, 'tip' | 'spacing' | 'leastSpacing'>,
  objection: (s: number) => string | null,
): Spaced {
  const [first, last] = [rules.tip * key, length - rules.tip * key];
  const [most, least] = [rules.spacing * key, rules.leastSpacing * key];
  const span = last - first;
  if (span < least - SLACK) return nearest([length / 2], [first, last], least, most, objection);
  const fewest = Math.max(1, Math.ceil(span / most - SLACK));
  const fullest = Math.max(fewest, Math.floor(span / least + SLACK));
  for (let spaces = fewest; spaces <= fullest; spaces++) {
    const places = evenly(first, last, spaces);
    if (places.every((s) => objection(s) === null)) return { places, missing: [] };
  }
  return nearest(evenly(first, last, fewest), [first, last], least, most, objection);
}

/** Each place moved to the nearest clear one, at most half a space and never nearer to its neighbours than the least spacing. */
function nearest(
  wanted: readonly number[],
  [first, last]: readonly [number, number],
  least: number,
  most: number,
  objection: (s: number) => string | null,
): Spaced {
  const half =
    wanted.length > 1 ? ((wanted[1] as number) - (wanted[0] as number)) / 2 : Math.max(0, (last - first) / 2);
  const places: number[] = [];
  const missing: string[] = [];
  wanted.forEach((s, i) => {
    const why = objection(s);
    // On a short crack the middle itself lies nearer to a tip than the rule asks, and nothing better exists.
    const from = Math.max(Math.min(first, s), (places.at(-1) ?? -Infinity) + least);
    const to = Math.min(Math.max(last, s), (wanted[i + 1] ?? Infinity) - least);
    const able = (p: number) => p >= from - SLACK && p <= to + SLACK && objection(p) === null;
    if (why === null && s >= from - SLACK) {
      places.push(s);
      return;
    }
    for (let d = STEP; d <= half; d += STEP) {
      const found = [s - d, s + d].find(able);
      if (found !== undefined) {
        places.push(found);
        return;
      }
    }
    missing.push(`No key stands ${mm(s)} along the crack, because ${why ?? 'the one before it had to move too near'}.`);
  });
  for (let i = 1; i < places.length; i++) {
    const gap = (places[i] as number) - (places[i - 1] as number);
    if (gap > most + SLACK)
      missing.push(
        `From ${mm(places[i - 1] as number)} to ${mm(places[i] as number)} along the crack no key stands: ${mm(gap)}, where the rule allows ${mm(most)}.`,
      );
  }
  return { places, missing };
}
