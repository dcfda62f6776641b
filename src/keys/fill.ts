import type { WideLine } from '../geometry';
import type { Resin } from '../job';
import { fillLitres } from '../wood';

/** What filling a crack takes. */
export interface CrackFill {
  /** Open area as it shows on the face, mm2: the mean of neighbouring widths along every piece of the line. */
  readonly area: number;
  /** How deep it is filled, mm; null where nobody knows. */
  readonly depth: number | null;
  /** What the crack holds, and the resin that is mixed for it, litres; null without a depth. */
  readonly volume: number | null;
  readonly litres: number | null;
  /** Weight of that resin, kg. */
  readonly kg: number | null;
  /** Pours of no more than the shop's resin allows; null without a depth or without that limit. */
  readonly pours: number | null;
}

/** Resin for casting and filling, kg a litre (practice, no source). */
const DENSITY = 1.1;
const MM3_PER_LITRE = 1e6;

/** Open area of a crack: a line with a width along it, mm2. */
export function crackArea(line: WideLine): number {
  return line.slice(1).reduce((sum, [x, y, width], i) => {
    const [px, py, before] = line[i] as WideLine[0];
    return sum + (Math.hypot(x - px, y - py) * (before + width)) / 2;
  }, 0);
}

/**
 * Crack volume and resin (practice: area times depth, and a tenth to a fifth over). Walls are taken as upright, so a crack that
 * narrows downward takes less.
 * @param depth mm, of the finished top; null where unknown: nothing is assumed
 */
export function crackFill(line: WideLine, depth: number | null, { allowance, pour }: Resin): CrackFill {
  const area = crackArea(line);
  if (depth === null) return { area, depth, volume: null, litres: null, kg: null, pours: null };
  const litres = fillLitres(area, depth, allowance);
  return {
    area,
    depth,
    volume: (area * depth) / MM3_PER_LITRE,
    litres,
    kg: litres * DENSITY,
    pours: pour === null ? null : Math.max(1, Math.ceil(depth / pour - 1e-9)),
  };
}
