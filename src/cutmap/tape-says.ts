import { distance } from '../geometry';
import type { Face, TapeReading } from '../job';
import type { MeasuredSlab, SlabMeasures } from './measures';
import { surenessOf } from './sureness';
import { allowances, type TapeVerdict, tapeVerdict } from './tape-fit';
import { type TapeLength, tapedLengths, tapeLengths } from './tape-lengths';

/** What a slab's tapes say: the lengths that are worth taping, what those read say of the marking, and readings of a marking before. */
export interface TapeSays {
  readonly lengths: readonly (TapeLength & { readonly allowed: number })[];
  readonly verdict: TapeVerdict;
  readonly old: readonly TapeReading[];
}

/**
 * Holds what a tape read on a marked slab against its plan.
 * @param seen the photo shows the drilled marks, so that their distance tells of the photo
 */
export function tapeSays(
  slab: MeasuredSlab,
  face: Face,
  measures: SlabMeasures,
  readings: readonly TapeReading[],
  seen: boolean,
): TapeSays {
  const { between } = surenessOf(slab, face);
  const { taped, old } = tapedLengths(readings, measures, slab.outline.outer, between);
  const scaleSigma = between(...measures.datum) / 2 / distance(...measures.datum);
  const lengths = tapeLengths(measures, slab.outline.outer);
  const before = { scaleSigma, seen };
  const allowed = allowances(lengths, measures, before);
  return {
    lengths: lengths.map((length, i) => ({ ...length, allowed: allowed[i] as number })),
    verdict: tapeVerdict(taped, measures, before),
    old,
  };
}
