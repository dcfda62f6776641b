import type { UnitSystem } from '../units';
import { defaultTop } from './defaults';
import type { Top } from './wanted';

/** Figures that a shop speaks in, mm: what a top that nobody has sized is proposed in. All practice, no source. */
export interface RoundSizes {
  /** Steps of lengths and depths that are proposed, and the finer ones to which a wanted size is brought down. */
  readonly length: number;
  readonly depth: number;
  readonly fine: number;
  /** The least that is still called a top. */
  readonly least: { readonly length: number; readonly depth: number };
  /** How far a live edge may swing, the first usual. */
  readonly bands: readonly number[];
  /** Usual finished thicknesses, falling, and the step to which a wanted one is brought down. */
  readonly thicknesses: readonly number[];
  readonly fineThickness: number;
}

const INCH = 25.4;
const inches = (...all: readonly number[]): number[] => all.map((one) => one * INCH);

export const ROUND_SIZES: Readonly<Record<UnitSystem, RoundSizes>> = {
  mm: {
    length: 100,
    depth: 50,
    fine: 10,
    least: { length: 300, depth: 150 },
    bands: [50, 100],
    thicknesses: [38, 32, 28, 25, 22, 19, 16, 12],
    fineThickness: 1,
  },
  in: {
    length: 4 * INCH,
    depth: 2 * INCH,
    fine: INCH / 2,
    least: { length: 12 * INCH, depth: 6 * INCH },
    bands: inches(2, 4),
    thicknesses: inches(1.5, 1.25, 1.125, 1, 0.875, 0.75, 0.625, 0.5),
    fineThickness: INCH / 16,
  },
};

/** The top that a job begins with, in round figures of its units: 7 ft by 24 in by 1 1/2 in where inches are spoken. */
export function usualTop(id: string, units: UnitSystem): Top {
  const top = defaultTop(id);
  if (units === 'mm') return top;
  const [length, least, most, thickness] = inches(84, 24, 26, 1.5) as [number, number, number, number];
  return { ...top, length, depth: [least, most], thickness };
}
