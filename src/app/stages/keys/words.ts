import type { Clearance, Judged } from '../../../keys';
import { formatLength, type UnitSystem } from '../../../units';

const capital = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

/** A length in a sentence. */
export const inWords = (mm: number, units: UnitSystem): string => formatLength(mm, units, { unit: true, decimals: 0 });

/** What speaks against a key where it stands, in the job's units; null where nothing does. */
export function againstWords({ against, over, broken }: Judged, units: UnitSystem): string | null {
  if (against === null) return null;
  if (over) return 'It reaches over the edge of the top.';
  return broken ? brokenWords(broken, units) : against;
}

function brokenWords({ to, mm, asked }: Clearance, units: UnitSystem): string {
  if (mm < 0.5) return `${capital(to)} is in its way.`;
  return `${capital(to)} is ${inWords(mm, units)} away; the rule asks ${inWords(asked, units)}.`;
}

/** What a rule asks of a clearance: at least so much, or from so much to so much. */
export const askedWords = ({ asked, most }: Clearance, units: UnitSystem): string =>
  most === null
    ? `${formatLength(asked, units, { decimals: 0 })}`
    : `${formatLength(asked, units, { decimals: 0 })}–${formatLength(most, units, { decimals: 0 })}`;

/** Where a place on a crack lies from another one, for one who looks at the sheet. */
export const besideWords = (by: number, units: UnitSystem): string =>
  `${inWords(Math.abs(by), units)} to the ${by < 0 ? 'left' : 'right'}`;
