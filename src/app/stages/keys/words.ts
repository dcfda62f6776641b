import type { Clearance } from '../../../keys';
import { formatLength, type UnitSystem } from '../../../units';

/** A length in a sentence. */
export const inWords = (mm: number, units: UnitSystem): string => formatLength(mm, units, { unit: true, decimals: 0 });

/** What a rule asks of a clearance: at least so much, or from so much to so much. */
export const askedWords = ({ asked, most }: Clearance, units: UnitSystem): string =>
  most === null
    ? `${formatLength(asked, units, { decimals: 0 })}`
    : `${formatLength(asked, units, { decimals: 0 })}–${formatLength(most, units, { decimals: 0 })}`;

/** Where a place on a crack lies from another one, for one who looks at the sheet. */
export const besideWords = (by: number, units: UnitSystem): string =>
  `${inWords(Math.abs(by), units)} to the ${by < 0 ? 'left' : 'right'}`;
