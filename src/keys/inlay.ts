import { distanceToRing, largestRing, offset, type Polygon } from '../geometry';
import type { KeyFit, KeySize, Router } from '../job';
import { type Say, sayIn } from './say';
import { openingFor } from './shape';
import { cleared, waistOf } from './template';

/**
 * Key and pocket cut along one template: the key with the bare bushing, the pocket with a collar on it. Rings in the key's own frame, mm.
 * The bit runs inside the opening both times; the key is what stands within its way, the pocket what it clears.
 */
export interface InlayPair {
  /** What is sawn out of the template, reckoned from the key: its sides moved outward by half of bushing plus bit. */
  readonly opening: Polygon<'top'>;
  /** The same reckoned from the pocket: key and gap moved outward by half of collar less bit. One with `opening` where the set suits. */
  readonly fromPocket: Polygon<'top'>;
  /** How far the two openings lie apart, square to their sides; over 0: the collar is too large. */
  readonly apart: number;
  /** The key as it comes from the opening, and its pocket before and after the chisel has pared the corners. */
  readonly key: Polygon<'top'>;
  readonly routed: Polygon<'top'>;
  readonly pared: Polygon<'top'>;
  /** Glue gap between key and pared pocket as measured all round, on each side; below 0 the key is the larger. */
  readonly gap: { readonly wanted: number; readonly least: number; readonly most: number };
  /** Collar that would give the wanted gap: bushing and two bits, less two gaps (read, without the gap: r = O + 2 b). */
  readonly collar: number;
  readonly problems: readonly string[];
}

/** How far the gap may be off before it is said, mm: a sheet of paper. */
const OFF = 0.05;

/**
 * The inlay pair of a size from one template.
 * @param router with a collar
 * @param fit with the wanted glue gap
 */
export function inlayPair(
  size: KeySize,
  { bushing, bit, collar }: Router & { readonly collar: number },
  { gap }: Pick<KeyFit, 'gap'>,
  say: Say = sayIn('mm'),
): InlayPair {
  const opening = openingFor(size, (bushing + bit) / 2);
  const fromPocket = openingFor(size, (collar - bit) / 2 + gap);
  const inset = (by: number): Polygon<'top'> => largestRing(offset([{ outer: opening, holes: [] }], -by)) ?? [];
  const key = inset((bushing + bit) / 2);
  const pared = inset((collar - bit) / 2);
  const routed = cleared(opening, collar, bit);
  const apart = (collar - bit) / 2 + gap - (bushing + bit) / 2;
  const suits = gap - apart;
  const wanted = bushing + 2 * bit - 2 * gap;
  const problems: string[] = [];
  const waist = waistOf(opening);
  if (collar <= bushing)
    problems.push(`A collar of ${say(collar)} does not go over a bushing of ${say(bushing)}: take a larger one.`);
  else if (suits < -1e-9)
    problems.push(
      `With a collar of ${say(collar)} the key comes out ${say(-suits)} larger than its pocket on every side and does not go in: take one of ${say(wanted)}.`,
    );
  else if (Math.abs(apart) > OFF)
    problems.push(
      `With a collar of ${say(collar)} the gap is ${say(suits)} on every side where ${say(gap)} is wanted: a collar of ${say(wanted)} gives that.`,
    );
  if (collar > waist || routed.length > 1)
    problems.push(
      `A collar of ${say(collar)} does not pass the waist of the inlay template for "${size.id}", ${say(waist)}: take a narrower bit.`,
    );
  return {
    opening,
    fromPocket,
    apart,
    key,
    routed: largestRing(routed) ?? [],
    pared,
    gap: { wanted: gap, ...gapAround(key, pared) },
    collar: wanted,
    problems,
  };
}

/** Distance from every corner and side of the key to the pocket's wall; below 0 where the key reaches over it. */
function gapAround(key: Polygon<'top'>, pocket: Polygon<'top'>): { least: number; most: number } {
  if (key.length === 0 || pocket.length === 0) return { least: 0, most: 0 };
  // Of two rings at one distance all round, each corner of the inner one and each middle of a side tells that distance.
  const [inner, outer] = span(key) <= span(pocket) ? [key, pocket] : [pocket, key];
  const sign = inner === key ? 1 : -1;
  const places = inner.flatMap((p, i) => {
    const q = inner[(i + 1) % inner.length] as typeof p;
    return [p, [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2] as const];
  });
  const gaps = places.map((p) => sign * distanceToRing(p, outer));
  return { least: Math.min(...gaps), most: Math.max(...gaps) };
}

const span = (ring: Polygon<'top'>): number => Math.max(...ring.map(([x]) => x));

/** How a key with leaning sides sits in a pocket with upright ones. mm. */
export interface Taper {
  /** How much wider, on every side, the face is than the foot. */
  readonly wider: number;
  /** How much the face is over the pocket on every side; below 0 it stays clear. */
  readonly over: number;
  /** How far over home the key binds before it is driven; 0 where it drops in. */
  readonly binds: number;
}

/**
 * A key whose sides lean outward towards the face (read: 0.5 to 1 degree, fat at the top) and whose foot clears the pocket by the gap.
 * @param depth of the pocket, mm
 */
export function taperOf(depth: number, { gap, taperDegrees }: KeyFit): Taper {
  const lean = Math.tan((taperDegrees * Math.PI) / 180);
  const wider = depth * lean;
  const over = wider - gap;
  return { wider, over, binds: lean > 0 ? Math.max(0, Math.min(depth, over / lean)) : 0 };
}
