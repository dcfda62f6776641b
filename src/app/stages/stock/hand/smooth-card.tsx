import { formatLength } from '../../../../units';
import { announce } from '../../../announce';
import { Choices } from '../../../parts/choices';
import { useUnits } from '../../../parts/job-context';
import type { Path } from '../path';
import { PointList } from '../point-list';
import type { StockView } from '../view';
import { smoothed } from './hand-items';
import { chosenRun, reshape, ringOf } from './outline';
import { smoothAt } from './smooth';
import { StretchButton } from './stretch-button';

/** Bumps up to this long are taken off, mm. */
const BUMPS = [10, 30, 80];

/** Smooths the outline: by a brush along the edge, or a stretch between two points. */
export function SmoothCard({ view, path }: { view: StockView; path: Path }) {
  const units = useUnits();
  const bump = view.hand.bump.value;
  const run = chosenRun(view, path);
  const ring = ringOf(path);
  const stretch = run && run.first !== run.last ? smoothed(ring, run, bump) : null;
  const point = run && run.first === run.last ? ring[run.first] : undefined;
  const length = (mm: number, decimals = 0) => formatLength(mm, units, { decimals, denominator: 32, unit: true });
  return (
    <div class="stack">
      <p class="small soft">
        {view.hand.anchor.value !== null && !stretch
          ? 'Choose the point where the stretch ends.'
          : 'Drag along the edge to smooth it. Or choose a point, begin a stretch there, and choose its other end.'}
      </p>
      <div class="field">
        <span class="label">Takes off bumps up to</span>
        <Choices
          label="Takes off bumps up to"
          options={BUMPS.map((mm) => [mm, length(mm)] as const)}
          value={bump}
          onChange={(next) => {
            view.hand.bump.value = next;
          }}
        />
      </div>
      <div class="row">
        <StretchButton view={view} path={path} />
        {stretch ? (
          <button
            type="button"
            class="button main"
            onClick={() => {
              reshape(view, path, 'Smooth a stretch', stretch.ring);
              announce(`Smoothed: the edge moved by up to ${length(stretch.moved, 1)}.`);
            }}
          >
            Smooth this stretch
          </button>
        ) : (
          <button
            type="button"
            class="button"
            disabled={!point}
            onClick={() => point && reshape(view, path, 'Smooth around a point', smoothAt(ring, point, bump) ?? ring)}
          >
            Smooth around this point
          </button>
        )}
      </div>
      {stretch && (
        <p class="note measured small">
          It moves the edge by up to <strong class="number">{length(stretch.moved, 1)}</strong>: the broken line.
        </p>
      )}
      <details>
        <summary>Points by number</summary>
        <PointList view={view} path={path} />
      </details>
    </div>
  );
}
