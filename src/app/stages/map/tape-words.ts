import type { ReadLength, Suspect, TapeVerdict } from '../../../cutmap';
import { formatLength, formatShare, type UnitSystem } from '../../../units';

/** What the tape says, in the shop's words. */

/** A length as a tape is read: half a millimetre or a thirty-second. */
export const lengthWords = (mm: number, units: UnitSystem): string =>
  formatLength(mm, units, { decimals: 1, denominator: 32, unit: true });

const called = (length: Pick<ReadLength, 'from' | 'to'>): string => `${length.from} to ${length.to}`;

/** "18 mm towards the right end and 4 mm towards the lower edge". */
function towards([x, y]: readonly [number, number], units: UnitSystem): string {
  const parts = [
    [x, x > 0 ? 'the right end' : 'the left end'],
    [y, y > 0 ? 'the lower edge' : 'the upper edge'],
  ] as const;
  const said = parts.filter(([mm]) => Math.abs(mm) >= 1);
  const all = said.length > 0 ? said : parts.slice(0, 1);
  return all.map(([mm, where]) => `${lengthWords(Math.round(Math.abs(mm)), units)} towards ${where}`).join(' and ');
}

/** One cause that would explain what is off. */
export function suspectWords(suspect: Suspect, lengths: readonly ReadLength[], units: UnitSystem): string {
  switch (suspect.kind) {
    case 'photo': {
      const { share, sigma } = suspect;
      return `The photo was off: the wood is ${formatShare(Math.abs(share), 2)} ${share > 0 ? 'larger' : 'smaller'} than it said (±${formatShare(2 * sigma, 2)}).`;
    }
    case 'stretch':
      return `The photo was off unlike: ${formatShare(suspect.along, 2)} along and ${formatShare(suspect.across, 2)} across. Measure the slab again under Stock, with these lengths as tape checks.`;
    case 'mark':
      return `${suspect.label} was drilled off its place, ${towards(suspect.by, units)}.`;
    case 'point':
      return `Point ${suspect.label} was marked off its place, ${towards(suspect.by, units)}. Mark it again from A and B.`;
    case 'reading': {
      const length = lengths[suspect.index];
      const more = suspect.mm > 0 ? 'too much' : 'too little';
      return `${length ? called(length) : 'One length'} was read ${lengthWords(Math.round(Math.abs(suspect.mm)), units)} ${more}, or taped elsewhere. Tape it again.`;
    }
  }
}

/** What the readings say of the marking, in one sentence. */
export function verdictWords({ says, lengths, suspects, worst }: TapeVerdict, units: UnitSystem): string {
  const many = lengths.length === 1 ? 'The one length taped' : `All ${lengths.length} lengths taped`;
  switch (says) {
    case 'none':
      return 'Nothing is taped yet. Three lengths tell whether the marking is right.';
    case 'right':
      return lengths.length < 3
        ? `${many} ${lengths.length === 1 ? 'is' : 'are'} right. Tape three to be sure.`
        : `The marking is right. ${many} are within what is allowed.`;
    case 'suspects':
      return suspects.length === 1
        ? 'The marking is not right yet.'
        : 'The marking is not right yet. It is one of these, the likeliest first; one more length tells which.';
    case 'apart': {
      const length = worst && lengths[worst.index];
      const off = worst ? lengthWords(Math.round(Math.abs(worst.mm)), units) : '';
      const how = worst && worst.mm > 0 ? 'too long' : 'too short';
      return `These readings contradict each other: whatever one thing is taken to be wrong, ${length ? called(length) : 'one length'} still reads ${off} ${how}. Tape it again first; nothing was moved.`;
    }
  }
}
