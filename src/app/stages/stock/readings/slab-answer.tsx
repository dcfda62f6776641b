import { useEffect, useState } from 'preact/hooks';
import { bounds } from '../../../../geometry';
import type { Flitch, Slab } from '../../../../job';
import type { SlabThickness } from '../../../../plan';
import { formatLength, formatPlusMinus } from '../../../../units';
import { useUnits } from '../../../parts/job-context';
import { solverWork } from '../../../work';
import type { StockView } from '../view';

/** The readings rest this long, ms, before they are reckoned through. */
const REST = 250;

/** What the readings so far say of the slab, and where one more would help most. */
export function SlabAnswer({ view, flitch, slab }: { view: StockView; flitch: Flitch; slab: Slab }) {
  const units = useUnits();
  const [answer, setAnswer] = useState<SlabThickness | null>(null);
  useEffect(() => {
    const stopper = new AbortController();
    const timer = setTimeout(() => {
      solverWork
        .call(
          stopper.signal,
          () => {},
          (api, id, report) => api.slabThickness(id, view.store.job.peek(), flitch.id, slab.id, report),
        )
        .then(setAnswer)
        .catch(() => {});
    }, REST);
    return () => {
      clearTimeout(timer);
      stopper.abort();
    };
  }, [slab.spots, slab.warp, slab.heights, slab.thickness, slab.faces.top.outline]);
  if (!answer) return null;
  const say = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 32, unit: true });
  const { thickest, sigma, finished, readHere, crosscuts } = answer;
  const { minX, minY } = bounds(slab.faces.top.outline?.outer ?? [[0, 0]]);
  return (
    <section class="card stack" aria-label="What the readings say">
      <p>
        Flattened whole, the thickest flat board in it: <strong>{say(thickest)}</strong>{' '}
        {formatPlusMinus(2 * sigma, units, { decimals: 1 })}; it would finish at <strong>{say(finished)}</strong>.
      </p>
      {crosscuts.map(({ along, left, right }) => (
        <p key={along}>
          Crosscut first at {formatLength(along, units, { decimals: 0, unit: true })} along, it would finish at{' '}
          <strong>{say(left)}</strong> to the left and <strong>{say(right)}</strong> to the right.
        </p>
      ))}
      {readHere && (
        <p class="small soft">
          One more reading helps most at {formatLength(readHere.at[0] - minX, units, { decimals: 0, unit: true })} along
          and {formatLength(readHere.at[1] - minY, units, { decimals: 0, unit: true })} in.
        </p>
      )}
    </section>
  );
}
