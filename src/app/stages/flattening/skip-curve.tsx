import { useState } from 'preact/hooks';
import type { BlankFlattening } from '../../../flattening';
import { skipWords } from '../../../plan';
import { formatLength, formatShare } from '../../../units';
import { Choices } from '../../parts/choices';
import { useUnits } from '../../parts/job-context';

type Accept = { face: 'top' | 'bottom'; skip: number };

interface SkipCurveProps {
  flat: BlankFlattening;
  accept: Accept | undefined;
  onAccept(accept: Accept | undefined): void;
}

const FACES = [
  ['top', 'Upper face'],
  ['bottom', 'Underside'],
] as const;
const [WIDTH, HEIGHT] = [300, 110];
const MOST = 0.1;

/** What leaving part of a face low would gain, as a curve with a handle: what is chosen goes into the budget and the passes. */
export function SkipCurve({ flat, accept, onAccept }: SkipCurveProps) {
  const units = useUnits();
  const [face, setFace] = useState(accept?.face ?? 'top');
  const points = flat.accept.filter((point) => point.face === face);
  const clean = points[0]?.thickest ?? flat.thickest;
  const held =
    accept?.face === face
      ? Math.max(
          0,
          points.findLastIndex(({ skip }) => skip <= accept.skip + 1e-9),
        )
      : 0;
  const [dragged, setDragged] = useState<number | null>(null);
  const place = Math.min(dragged ?? held, points.length - 1);
  const point = points[place];
  const gain = (point?.thickest ?? clean) - clean;
  const most = Math.max(0.5, ...points.map(({ thickest }) => thickest - clean));
  const x = (skip: number) => (WIDTH * skip) / MOST;
  const y = (thickest: number) => HEIGHT - ((thickest - clean) / most) * (HEIGHT - 14);
  const steps = points.flatMap(({ skip, thickest }, i) => {
    const before = points[i - 1];
    return [...(before ? [`${x(skip)},${y(before.thickest)}`] : []), `${x(skip)},${y(thickest)}`];
  });
  const last = points.at(-1);
  const choose = (i: number) => {
    setDragged(null);
    const next = points[i];
    onAccept(i === 0 || !next ? undefined : { face, skip: next.skip });
  };
  return (
    <section class="card stack" aria-label="Left low">
      <h2>If part of a face may stay low</h2>
      <Choices label="Face" options={FACES} value={face} onChange={(next) => setFace(next)} />
      {points.length > 1 ? (
        <>
          <svg class="skip-curve" viewBox={`-8 -8 ${WIDTH + 16} ${HEIGHT + 16}`} aria-hidden="true">
            <path d={`M0 0V${HEIGHT}H${WIDTH}`} class="skip-axes" />
            <polyline
              points={[...steps, ...(last ? [`${WIDTH},${y(last.thickest)}`] : [])].join(' ')}
              class="skip-line"
            />
            {point && <circle cx={x(point.skip)} cy={y(point.thickest)} r="7" class="skip-handle" />}
          </svg>
          <input
            type="range"
            class="skip-range"
            min={0}
            max={points.length - 1}
            step={1}
            value={place}
            aria-label={`How much of the ${face === 'top' ? 'upper face' : 'underside'} may stay low`}
            aria-valuetext={`${formatShare(point?.skip ?? 0, 1)}, ${formatLength(gain, units, { decimals: 1 })} thicker`}
            onInput={(event) => setDragged(Number(event.currentTarget.value))}
            onChange={(event) => choose(Number(event.currentTarget.value))}
          />
          <p>{place === 0 || !point ? 'Nothing stays low.' : sentence(skipWords(face, point.skip, gain, units))}</p>
        </>
      ) : (
        <p class="soft">Leaving a tenth of it low would gain nothing.</p>
      )}
    </section>
  );
}

const sentence = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
