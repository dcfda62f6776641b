import { FIBRE_SATURATION, movement } from './movement';
import { dryingCup, type PithPlace, ringAngleDegrees, sectionStrain } from './rings';

/** What drying does to a slab's or blank's section on the way to the place of use. Lengths in mm, moistures in %. */
export interface Drying {
  readonly from: number;
  readonly to: number;
  /** Change of width and of thickness, mm, negative where it shrinks; null between the bounds where nobody knows how the rings stand. */
  readonly width: Change;
  readonly thickness: Change;
  /** Angle of the rings against the face at the middle, degrees; null where the pith's place is not known. */
  readonly ringsDegrees: number | null;
  /** Cup to be expected, positive with the edges high on the top face; null where it cannot be told. */
  readonly cup: number | null;
  /** How wet it is, in words that call for care; null where it may be worked. */
  readonly warning: string | null;
  readonly source: string;
}

interface Change {
  readonly expected: number | null;
  /** All flat-sawn or all quarter-sawn: between these it must lie. */
  readonly least: number;
  readonly most: number;
}

/** Above this wood is not safe from fungi that stain and rot it (Wood Handbook chapter 14 names about 20 %; from memory). */
export const SAFE_MOISTURE = 20;
/** Parts farther than this from where they will live, or from each other, are not glued or keyed (practice, no source). */
export const MOISTURE_APART = 2;

/**
 * Drying of a section whose rings stand around a pith, if its place is known.
 * @throws InputProblem for an unknown species or an impossible moisture
 */
export function dryingOf(asked: {
  readonly species: string;
  readonly from: number;
  readonly to: number;
  readonly width: number;
  readonly thickness: number;
  /** In the section's own frame: y from 0 to `width`, z = 0 at the top face. */
  readonly pith: PithPlace | null;
}): Drying {
  const { species, from, to, width, thickness, pith } = asked;
  const one = (cut: 'flat' | 'quarter') => movement({ species, width: 1, from, to, cut });
  const [flat, quarter] = [one('flat'), one('quarter')];
  const strain = { radial: quarter.change, tangential: flat.change };
  const section = { from: 0, to: width, thickness };
  const turned = pith && sectionStrain(section, pith, strain);
  const change = (size: number, expected: number | null): Change => ({
    expected: expected === null ? null : expected * size,
    least: flat.least * size,
    most: flat.most * size,
  });
  return {
    from,
    to,
    width: change(width, turned?.width ?? null),
    thickness: change(thickness, turned?.thickness ?? null),
    ringsDegrees: pith && ringAngleDegrees(pith, width / 2, -thickness / 2),
    cup: pith && dryingCup(section, pith, strain),
    warning: wetness(from, to),
    source: flat.source,
  };
}

function wetness(from: number, to: number): string | null {
  if (from > FIBRE_SATURATION)
    return `At ${from} % it is green: it has not begun to shrink. Sticker it out of the sun, ends sealed, until it is under ${SAFE_MOISTURE} %.`;
  if (from > SAFE_MOISTURE)
    return `At ${from} % fungi can still stain and rot it: sticker it until it is under ${SAFE_MOISTURE} %.`;
  if (Math.abs(from - to) > MOISTURE_APART)
    return `It must ${from > to ? 'lose' : 'take up'} ${Math.abs(from - to).toFixed(1)} % yet: neither joint nor key it before it is within ${MOISTURE_APART} % of ${to} %.`;
  return null;
}
