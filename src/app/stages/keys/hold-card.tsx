import { formatForce, formatShare } from '../../../units';
import { useUnits } from '../../parts/job-context';
import type { KeyBench } from './bench';

/** What the keys hold, as ratios: beside the wood behind them, and beside the keys as proposed. */
export function HoldCard({ bench: { top, given, proposed, set } }: { bench: KeyBench }) {
  const units = useUnits();
  const { hold } = given;
  if (given.keys.every(({ crack }) => top.cracks[crack]?.seam)) return null;
  const before = proposed.hold;
  return (
    <section class="card stack" aria-label="Hold">
      <h2>What they hold, roughly</h2>
      {hold.keys !== null && hold.wood !== null && hold.ratio !== null ? (
        <>
          <p>
            The keys {formatForce(hold.keys, units)}, the wood behind them {formatForce(hold.wood, units)}:{' '}
            {formatShare(hold.ratio)}.{' '}
            {hold.ratio >= 1 ? 'The wood would give way first.' : 'The keys would give way first.'}
          </p>
          {hold.share !== null && (
            <p>Together they hold {formatShare(hold.share)} of what this wood held there before it cracked.</p>
          )}
          {set && before.keys !== null && before.wood !== null && before.keys > 0 && before.wood > 0 && (
            <p>
              As you set them: {formatShare(hold.keys / before.keys)} of what the proposed keys hold,{' '}
              {formatShare(hold.wood / before.wood)} of what the wood behind them does.
            </p>
          )}
        </>
      ) : (
        <p>Not known: the handbook has no figure for one of the two woods.</p>
      )}
      <p class="small soft">{hold.note}</p>
      <p class="small soft">This is guidance, and no load promise. Keys hold a crack; they do not stop drying.</p>
    </section>
  );
}
