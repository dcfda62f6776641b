import type { Point } from '../../../../geometry';
import type { Photo, ReferenceDraft, Scale, Taped } from '../../../../job';

/** A slab that its photo is measured by alone: eight taps where it was taped, and what the tape said. Pure. */

/** What each tap is, in the order in which they are asked for: ends first, then both edges where each width was taped. */
export const TAPS = [
  { text: 'L', says: 'left end', asks: 'Tap the left end of the slab, amid its width.' },
  { text: 'R', says: 'right end', asks: 'Tap the right end of the slab, amid its width.' },
  { text: '1a', says: 'left width, one edge', asks: 'Tap one edge of the wood where you taped the left width.' },
  { text: '1b', says: 'left width, other edge', asks: 'Tap the other edge, straight across.' },
  { text: '2a', says: 'middle width, one edge', asks: 'Tap one edge of the wood where you taped the middle width.' },
  { text: '2b', says: 'middle width, other edge', asks: 'Tap the other edge, straight across.' },
  { text: '3a', says: 'right width, one edge', asks: 'Tap one edge of the wood where you taped the right width.' },
  { text: '3b', says: 'right width, other edge', asks: 'Tap the other edge, straight across.' },
] as const;

type Taps = NonNullable<ReferenceDraft['slab']>;

/** Every tap in its place; null where it is still to be made. */
export const tapsOf = ({ slab }: Pick<ReferenceDraft, 'slab'>): Taps => TAPS.map((_, i) => slab?.[i] ?? null);

/** The tap that is asked for next; null when all are there. */
export function nextTap(draft: Pick<ReferenceDraft, 'slab'>): number | null {
  const place = tapsOf(draft).indexOf(null);
  return place < 0 ? null : place;
}

/** What must still be typed or tapped, in sentences. */
export function slabLacks(draft: Pick<ReferenceDraft, 'slab'>, taped: Taped | undefined): string[] {
  const names = ['length', 'left width', 'middle width', 'right width'];
  const missing = [taped?.length, ...(taped?.widths ?? [null, null, null])].flatMap((mm, i) =>
    mm == null ? [names[i] as string] : [],
  );
  const listed = missing.length > 1 ? `${missing.slice(0, -1).join(', ')} and ${missing.at(-1)}` : missing[0];
  const next = nextTap(draft);
  return [...(listed ? [`Tape and type the ${listed}.`] : []), ...(next === null ? [] : [TAPS[next]?.asks as string])];
}

/** The measures with their taps; null while something lacks. */
export function slabScale(
  draft: Pick<ReferenceDraft, 'slab'>,
  taped: Taped | undefined,
): Pick<Extract<Scale, { kind: 'slab' }>, 'kind' | 'length' | 'widths'> | null {
  const taps = tapsOf(draft);
  const span = (from: number, mm: number | null | undefined) => {
    const [a, b] = [taps[from], taps[from + 1]];
    return a && b && mm ? { px: [a, b] as [Point<'photo'>, Point<'photo'>], mm } : null;
  };
  const length = span(0, taped?.length);
  const [left, middle, right] = [0, 1, 2].map((i) => span(2 + 2 * i, taped?.widths[i]));
  return length && left && middle && right ? { kind: 'slab', length, widths: [left, middle, right] } : null;
}

/** The taps that a scale was made of. */
export const tapsOfScale = ({ length, widths }: Extract<Scale, { kind: 'slab' }>): Taps =>
  [length, ...widths].flatMap(({ px }) => [...px]);

/** Whether a photo was measured by what the tape said before it was taped anew. */
export function tapedAnew({ scale, calibration }: Pick<Photo, 'scale' | 'calibration'>, taped?: Taped): boolean {
  if (scale.kind !== 'slab' || !calibration || !taped) return false;
  const said = [scale.length, ...scale.widths].map(({ mm }) => mm);
  return [taped.length, ...taped.widths].some((mm, i) => mm !== null && mm !== said[i]);
}
