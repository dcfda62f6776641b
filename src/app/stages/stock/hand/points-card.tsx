import { useState } from 'preact/hooks';
import { formatLength } from '../../../../units';
import type { XY } from '../../../canvas/items';
import { Choices } from '../../../parts/choices';
import { useUnits } from '../../../parts/job-context';
import type { Path } from '../path';
import { PointList } from '../point-list';
import type { StockView } from '../view';
import { chosenRun } from './outline';
import { nudge } from './outline-hand';
import { countOf } from './ring';
import { StretchButton } from './stretch-button';

/** How far along the edge neighbours follow, mm. */
const REACHES = [0, 20, 60, 150];
/** How far one press moves, mm. */
const STEPS = [0.1, 1, 10];
const WAYS = [
  ['←', 'left', [-1, 0]],
  ['↑', 'up', [0, -1]],
  ['↓', 'down', [0, 1]],
  ['→', 'right', [1, 0]],
] as const satisfies readonly (readonly [string, string, XY])[];

/** Points of the outline, moved one by one, as a stretch, or with their neighbours. */
export function PointsCard({ view, path }: { view: StockView; path: Path }) {
  const units = useUnits();
  const [step, setStep] = useState(1);
  const run = chosenRun(view, path);
  const count = run ? countOf(run, path.points.length) : 0;
  const length = (mm: number) => formatLength(mm, units, { decimals: mm < 1 ? 1 : 0, denominator: 32, unit: true });
  return (
    <div class="stack">
      <p class="small soft">
        {view.hand.anchor.value !== null && count < 2
          ? 'Choose the point where the stretch ends.'
          : 'Drag a point, or tap the edge to add one. The same by number below.'}
      </p>
      <div class="row between">
        <StretchButton view={view} path={path} />
        <output class="number small">
          {count === 0 ? 'No point chosen' : count === 1 ? `Point ${(run?.first ?? 0) + 1}` : `${count} points`}
        </output>
      </div>
      <div class="field">
        <span class="label">Neighbours follow within</span>
        <Choices
          label="Neighbours follow within"
          options={REACHES.map((mm) => [mm, mm === 0 ? 'none' : length(mm)] as const)}
          value={view.hand.reach.value}
          onChange={(reach) => {
            view.hand.reach.value = reach;
          }}
        />
      </div>
      <div class="field">
        <span class="label">Move by</span>
        <div class="row between nudge">
          <Choices
            label="Move by"
            options={STEPS.map((mm) => [mm, length(mm)] as const)}
            value={step}
            onChange={(next) => setStep(next)}
          />
          <div class="choices">
            {WAYS.map(([sign, way, [x, y]]) => (
              <button
                key={way}
                type="button"
                class="button"
                aria-label={`Move ${way}`}
                disabled={!run}
                onClick={() => nudge(view, path, [x * step, y * step])}
              >
                {sign}
              </button>
            ))}
          </div>
        </div>
      </div>
      <PointList view={view} path={path} />
    </div>
  );
}
