import { useMemo } from 'preact/hooks';
import type { SetLine, YardReport } from '../../../plan';
import { PlanPicture } from './plan-picture';
import type { FaceLooks } from './wood';
import type { YardView } from './yard-view';

/** Pictures of the rack's slabs are not fetched for small drawings. */
const NO_LOOKS: FaceLooks = new Map();
/** Width of a set's drawing, px. */
const DRAWN = 300;

/** Sets of slabs, the best first; the chosen one is told in full. */
export function YardSets({ view, report }: { view: YardView; report: YardReport }) {
  const { sets } = report;
  const chosen = view.chosen.value ?? sets[0]?.slabs.join() ?? '';
  if (sets.length === 0) return <div class="empty-sheet">No set of slabs is left. Mark slabs as on offer.</div>;
  return (
    <ol class="yard-sets" aria-label="Slabs to buy, the best first">
      {sets.map((line, i) => {
        const key = line.slabs.join();
        return (
          <li key={key}>
            <SetHead
              line={line}
              place={i + 1}
              open={key === chosen}
              onOpen={() => {
                view.chosen.value = key === chosen ? 'none' : key;
              }}
            />
            {key === chosen && <SetFacts view={view} line={line} />}
          </li>
        );
      })}
    </ol>
  );
}

const givesWords = ({ gives, state }: SetLine): string => {
  const all = gives.of === 1 ? 'the top' : `${gives.tops} of ${gives.of} tops`;
  if (state === 'gives nothing') return 'gives nothing';
  return state === 'laid out' ? `gives ${all}` : `may give ${all}`;
};

function SetHead({ line, place, open, onOpen }: { line: SetLine; place: number; open: boolean; onOpen(): void }) {
  return (
    <button
      type="button"
      class={`yard-set ${line.state === 'laid out' ? '' : 'unsure'}`}
      aria-expanded={open}
      onClick={onOpen}
    >
      <span class="number soft">{place}</span>
      <span class="yard-name">{line.name}</span>
      <span class="number">{line.price ?? 'no price'}</span>
      <span class="small soft">{givesWords(line)}</span>
      <span class="small number soft">{line.each ?? ''}</span>
    </button>
  );
}

function SetFacts({ view, line }: { view: YardView; line: SetLine }) {
  const plan = useMemo(() => view.planOf(line.slabs), [line]);
  return (
    <div class="yard-facts stack">
      {plan && Object.keys(plan.placements).length > 0 && <PlanPicture plan={plan} looks={NO_LOOKS} width={DRAWN} />}
      <ul>
        {line.tops.map((words) => (
          <li key={words}>{words}.</li>
        ))}
      </ul>
      {line.misses.map((words) => (
        <p key={words} class="note miss">
          <strong>Misses:</strong> {words}
        </p>
      ))}
      {line.left && <p>{line.left}</p>}
      {line.ifSold.map((words) => (
        <p key={words}>
          <strong>Before you decide:</strong> {words}
        </p>
      ))}
      {line.doubts.length > 0 && (
        <>
          <p>
            <strong>To be sure:</strong>
          </p>
          <ul>
            {line.doubts.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </>
      )}
      {line.slabs.length > 0 && (
        <button type="button" class="button" onClick={() => view.buy(line.slabs)}>
          Mark {line.name} as bought
        </button>
      )}
    </div>
  );
}
