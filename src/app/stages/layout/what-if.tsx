import { useState } from 'preact/hooks';
import { slabKey, slabsInOrder, type Top } from '../../../job';
import { ChoiceField, LengthField } from '../../parts/fields';
import { useStore } from '../../parts/job-context';
import { TriedRow } from '../../parts/tried-row';
import type { PlanView, Trial } from '../../plan-view';

/** Tries the job with a slab less or another depth, without changing it. */
export function WhatIfCard({ view }: { view: PlanView }) {
  const job = useStore().job.value;
  const slabs = Object.values(job.flitches).flatMap((flitch) =>
    slabsInOrder(flitch)
      .filter(({ faces }) => faces.top.outline || faces.bottom.outline)
      .map((slab) => ({ flitch: flitch.id, slab })),
  );
  const found = view.whatIf.value;
  const idle = view.running.value === null;

  const without = ({ flitch, slab }: (typeof slabs)[number]): Trial => ({
    name: `Without ${slab.name}`,
    change: (draft) => {
      delete draft.flitches[flitch]?.slabs[slab.id];
    },
    changesJob: false,
  });

  return (
    <details class="card">
      <summary>What if …</summary>
      <div class="stack">
        {slabs.length > 1 && (
          <div class="stack">
            <p>… one slab were left out?</p>
            <div class="row">
              {slabs.map((one) => (
                <button
                  key={slabKey(one.flitch, one.slab.id)}
                  type="button"
                  class="button"
                  disabled={!idle}
                  onClick={() => void view.tryOut(without(one))}
                >
                  Without {one.slab.name}
                </button>
              ))}
            </div>
          </div>
        )}
        <DepthTrial tops={Object.values(job.tops)} idle={idle} onTry={(trial) => void view.tryOut(trial)} />
        {found && (
          <div class="note">
            <p>
              <strong>{found.trial.name}</strong> is shown beside the plan in view.
            </p>
            <TriedRow
              onTake={() => view.takeOver(found)}
              onLeave={() => {
                view.whatIf.value = null;
              }}
            />
          </div>
        )}
      </div>
    </details>
  );
}

function DepthTrial({ tops, idle, onTry }: { tops: readonly Top[]; idle: boolean; onTry(trial: Trial): void }) {
  const [id, setId] = useState('');
  const top = tops.find((one) => one.id === id) ?? tops[0];
  const [typed, setTyped] = useState<readonly [number, number] | null>(null);
  if (!top) return null;
  const [least, most] = typed ?? top.depth;
  const choose = (next: string) => {
    setId(next);
    setTyped(null);
  };
  return (
    <div class="stack">
      <p>… a top were deeper, or less deep?</p>
      {tops.length > 1 && (
        <ChoiceField
          label="Top"
          value={top.id}
          options={tops.map((one) => [one.id, one.name] as const)}
          onChange={choose}
        />
      )}
      <div class="fields">
        <LengthField label="Depth, least" value={least} onChange={(mm) => setTyped([mm, Math.max(mm, most)])} />
        <LengthField label="Depth, most" value={most} onChange={(mm) => setTyped([Math.min(mm, least), mm])} />
      </div>
      <button
        type="button"
        class="button"
        disabled={!idle || !typed}
        onClick={() =>
          onTry({
            name: `${top.name} of another depth`,
            change: (draft) => {
              const wanted = draft.tops[top.id];
              if (wanted) wanted.depth = [least, most];
            },
            changesJob: true,
          })
        }
      >
        Try this depth
      </button>
    </div>
  );
}
