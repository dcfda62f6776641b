import type { Defect } from './stock';

const numberOf = (id: string): number => Number(/^d(\d+)$/.exec(id)?.[1] ?? Number.NaN);

const highest = (ids: readonly string[]): number =>
  Math.max(0, ...ids.map(numberOf).filter((number) => !Number.isNaN(number)));

/**
 * What the defects of a face are called on screen and on paper: a, b, c ... z, aa, ab. Numbered ones (d1, d2 ...) keep their letter
 * whatever is dropped or brought back; others follow in their order.
 */
export function defectLetters(defects: readonly Pick<Defect, 'id'>[]): Map<string, string> {
  const ids = defects.map(({ id }) => id);
  let next = highest(ids);
  return new Map(ids.map((id) => [id, letter((Number.isNaN(numberOf(id)) ? ++next : numberOf(id)) - 1)]));
}

/** A free id for a further defect of a face; its letter follows those that are there. */
export const nextDefectId = (defects: readonly Pick<Defect, 'id'>[]): string =>
  `d${highest(defects.map(({ id }) => id)) + 1}`;

function letter(place: number): string {
  const last = String.fromCharCode(97 + (place % 26));
  return place < 26 ? last : letter(Math.floor(place / 26) - 1) + last;
}
