import { type Job, offerOf, type Slab } from '../job';
import { ASSUMED_SIGMA } from '../layout';
import { formatPlusMinus, listed } from '../units';

/** Whether a slab's outline is known from a tape alone: good enough to buy by, never to cut by. */
export const isTapedOnly = ({ faces, taped }: Pick<Slab, 'faces' | 'taped'>): boolean =>
  faces.top.outline === null &&
  faces.bottom.outline === null &&
  (taped?.length ?? null) !== null &&
  (taped?.widths.some((width) => width !== null) ?? false);

/** `from a tape only: edges ±30 mm`: stands wherever such an outline is shown. */
export const tapedOnlyWords = ({ units }: Pick<Job, 'units'>): string =>
  `from a tape only: edges ${formatPlusMinus(2 * ASSUMED_SIGMA, units, { decimals: 0, unit: true })}`;

/** Why slabs that are in the shop are laid out in no plan and stand on no cutting map; null where there are none of which only a tape tells. */
export function onlyTaped(job: Pick<Job, 'flitches' | 'units'>): string | null {
  const names = Object.values(job.flitches)
    .flatMap(({ slabs }) => Object.values(slabs))
    .filter((slab) => offerOf(slab) === 'bought' && isTapedOnly(slab))
    .map(({ name }) => name);
  if (names.length === 0) return null;
  const [is, it] = names.length === 1 ? ['is', 'it'] : ['are', 'them'];
  return `${listed(names)} ${is} known from a tape alone (edges ${formatPlusMinus(2 * ASSUMED_SIGMA, job.units, { decimals: 0, unit: true })}): good enough to buy by, not to cut by. Photograph ${it} under Stock.`;
}
