import type { KeyRules } from '../job';
import type { CrackPart } from './crack-line';

/**
 * A rhythm is a measure along the crack in which the keys stand evenly: mm for an even one; for a graded one mm count more where the crack is
 * wider than on the whole, so that keys stand closer there.
 */
export interface Rhythm {
  /** The measure `s` mm from the first tip. */
  measure(s: number): number;
  /** The place at which the measure is `u`, mm. */
  place(u: number): number;
}

const EVEN: Rhythm = { measure: (s) => s, place: (u) => u };

/** Nowhere do keys stand closer or wider than by this factor of the even spacing (ours). */
const MOST_GRADED = 1.6;
/** Step of the measure of a graded rhythm, mm. */
const STEP = 2;

/** The rhythm of a crack. An odd number, and what mirrors another crack, stand evenly. */
export function rhythmOf(part: CrackPart, rhythm: KeyRules['rhythm']): Rhythm {
  if (rhythm !== 'graded') return EVEN;
  const steps = Math.max(1, Math.ceil(part.length / STEP));
  const step = part.length / steps;
  const widths = Array.from({ length: steps }, (_, i) => part.widthAt((i + 0.5) * step));
  const mean = widths.reduce((sum, w) => sum + w, 0) / steps;
  if (mean === 0) return EVEN;
  const sums = [0];
  for (const width of widths) {
    const grade = Math.min(MOST_GRADED, Math.max(1 / MOST_GRADED, width / mean));
    sums.push((sums.at(-1) as number) + grade * step);
  }
  const measure = (s: number): number => {
    const i = Math.min(steps - 1, Math.max(0, Math.floor(s / step)));
    const [from, to] = [sums[i], sums[i + 1]] as [number, number];
    return from + ((to - from) * (s - i * step)) / step;
  };
  const place = (u: number): number => {
    let i = 0;
    while (i < steps - 1 && (sums[i + 1] as number) < u) i++;
    const [from, to] = [sums[i], sums[i + 1]] as [number, number];
    return (i + (u - from) / (to - from)) * step;
  };
  return { measure, place };
}

/** Places in rhythm from `first` to `last` mm, for every number of spaces from `fewest` to `most`. */
export function inRhythm(
  [first, last]: readonly [number, number],
  [fewest, most]: readonly [number, number],
  { measure, place }: Rhythm,
): number[] {
  const [from, to] = [measure(first), measure(last)];
  const places = [first, last];
  for (let spaces = Math.max(2, fewest); spaces <= most; spaces++)
    for (let i = 1; i < spaces; i++) places.push(place(from + ((to - from) * i) / spaces));
  return places;
}
