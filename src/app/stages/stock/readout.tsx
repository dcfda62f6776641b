import { useMemo } from 'preact/hooks';
import type { Point } from '../../../geometry';
import { rulerOf } from '../../../photo';
import { formatAngle, formatLength, formatPlusMinus } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { grainAt } from './grain-layer';
import { toggleMeasure } from './probe';
import type { FaceLook } from './use-face-look';
import type { StockView } from './view';

/** Below the drawing: where the pointer or the cross is and how sure that is, or the length that is measured. */
export function Readout({ view, look }: { view: StockView; look: FaceLook }) {
  const units = useUnits();
  const face = view.face.value;
  const ruler = useMemo(() => face && rulerOf(face), [face?.photos]);
  if (!face || !ruler) return null;
  const measuring = view.measuring.value;
  const spots = view.spots.value;
  const hover = view.hover.value;
  const [a, b] = spots;
  const plusMinus = (sigma: number | null) =>
    sigma === null ? 'no photo tells how sure' : formatPlusMinus(2 * sigma, units, { unit: true });
  const length = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 16 });

  function place(at: Point<'face'>) {
    const grain = look.field && grainAt(look.field, at);
    return (
      <>
        <span class="number">along {length(at[0])}</span> <span class="number">across {length(at[1])}</span>{' '}
        <strong class="number">{plusMinus(ruler?.sigma(at) ?? null)}</strong>
        {grain && (
          <>
            {' '}
            <span class="number">
              grain {formatAngle(grain.degrees, 0)}
              {grain.spacing !== null &&
                `, rings ${formatLength(grain.spacing, units, { decimals: 1, denominator: 32 })}`}
            </span>
          </>
        )}
      </>
    );
  }

  function measured(from: Point<'face'>, to: Point<'face'>) {
    const { mm, sigma } = ruler?.distance(from, to) ?? { mm: 0, sigma: null };
    return (
      <>
        <span class="number">
          a to b: <strong>{formatLength(mm, units, { decimals: 1, denominator: 16, unit: true })}</strong>
        </span>{' '}
        <strong class="number">{plusMinus(sigma)}</strong>
      </>
    );
  }

  const at = hover ?? a;
  return (
    <>
      {/* A screen reader hears the cross, not every move of a mouse. */}
      <output class="readout small" aria-live={hover ? 'off' : 'polite'} aria-label="At the cross">
        {measuring && a && b
          ? measured(a, b)
          : measuring
            ? a
              ? 'Tap the other end.'
              : 'Tap one end.'
            : at
              ? place(at)
              : 'Tap the wood for place and ±.'}
      </output>
      <button
        type="button"
        class="button quiet"
        aria-pressed={measuring}
        // A click without a pointer comes from a key.
        onClick={(event) => toggleMeasure(view, event.detail === 0)}
      >
        Measure
      </button>
      {look.doubt.length > 0 && (
        <span class="legend small">
          <span class="sample doubt" aria-hidden="true" /> ± over{' '}
          {formatLength(2, units, { denominator: 16, unit: true })}
        </span>
      )}
    </>
  );
}
