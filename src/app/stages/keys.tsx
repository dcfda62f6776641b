import { useEffect, useLayoutEffect } from 'preact/hooks';
import { screwNotes, type TopReport } from '../../plan';
import { Cautions } from '../parts/cautions';
import { Choices } from '../parts/choices';
import { ChoiceField } from '../parts/fields';
import { planView } from '../plan-view';
import type { JobStore } from '../store';
import { addKey, crackName, firstToSee, newKey, useBench } from './keys/bench';
import { CrackCard, MissedKeys } from './keys/crack-card';
import { CrackStrip } from './keys/crack-strip';
import { type KeysHand, keysHand } from './keys/hand';
import { HoldCard } from './keys/hold-card';
import { KeyCard, SpotCard } from './keys/key-card';
import { KeySheet } from './keys/key-sheet';
import { KeysCard } from './keys/keys-card';
import { MoistureNote } from './keys/moisture-note';
import { RulesCard } from './keys/rules-card';
import { SeamKeys } from './keys/seam-keys';
import { SizesCard } from './keys/sizes-card';
import { heartwood } from './keys/wood-colour';
import { useFaceLooks } from './layout/wood';
import { NeedsPlan } from './needs-plan';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';
import { SPECIES_CHOICES } from './stock/slab-panel';

/** Where the keys go along the cracks of each top, how large and how deep: proposed, and set by hand. */
export function Keys({ store }: StageProps) {
  const view = planView(store);
  const hand = keysHand(view);
  const computed = view.computed.value;
  const tops = computed?.report.tops ?? [];
  const top = tops.find(({ id }) => id === hand.top.value) ?? tops[0];
  if (!computed || !top) {
    return (
      <StageLayout
        title="Keys"
        drawing={<NeedsPlan store={store} />}
        facts={<p>Keys follow from the cracks inside a planned top.</p>}
      />
    );
  }
  return <TopKeys key={top.id} store={store} hand={hand} plan={computed.plan.id} tops={tops} top={top} />;
}

interface TopKeysProps {
  store: JobStore;
  hand: KeysHand;
  plan: string;
  tops: readonly TopReport[];
  top: TopReport;
}

function TopKeys({ store, hand, plan, tops, top }: TopKeysProps) {
  const job = store.job.value;
  const looks = useFaceLooks(store);
  const bench = useBench(store, plan, top);
  const crack = hand.crack.value;
  const count = typeof bench === 'string' ? 0 : bench.keys.length;
  // Before anything is painted: what was looked at may be gone (a step was undone, another plan is in view), or nothing was yet.
  useLayoutEffect(() => {
    if (!top.cracks[crack] && typeof bench !== 'string') hand.crack.value = firstToSee(bench);
  }, [crack, top, bench]);
  useEffect(() => {
    if ((hand.chosen.peek() ?? -1) >= count) hand.choose(null);
  }, [top, count]);
  const own = job.flitches[top.placement.strips[0]?.flitch ?? '']?.species ?? '';
  const species = job.shop.keySpecies ?? own;
  const nameOf = (i: number) => crackName(top, i);
  const chooser = tops.length > 1 && (
    <Choices
      tabs
      label="Top"
      options={tops.map(({ id, name }) => [id, name] as const)}
      value={top.id}
      onChange={(id) => hand.turnTo(id)}
    />
  );
  if (typeof bench === 'string') {
    return (
      <StageLayout
        title="Keys"
        drawing={
          <div class="empty-sheet">
            <p>{bench}</p>
          </div>
        }
        facts={
          <>
            {chooser}
            <RulesCard store={store} />
            <SizesCard store={store} />
          </>
        }
      />
    );
  }
  const cracked = top.cracks.length > 0;
  return (
    <StageLayout
      title="Keys"
      drawing={
        <div class="keys-drawing">
          <KeySheet store={store} bench={bench} hand={hand} looks={looks} species={species} />
          {top.cracks[crack] && (
            <CrackStrip store={store} bench={bench} hand={hand} species={species} name={nameOf(crack)} />
          )}
        </div>
      }
      facts={
        <>
          {chooser}
          {top.cracks.length > 1 && (
            <Choices
              tabs
              label="Crack"
              options={top.cracks.map(({ proposed }, i) => [i, `${nameOf(i)}${proposed ? '*' : ''}`] as const)}
              value={crack}
              onChange={(i) => hand.turnTo(top.id, i)}
            />
          )}
          {!cracked && (
            <p class="note">
              No crack of {top.name} is to be keyed. Under Stock, Defects, a crack can be set to be held by keys.
            </p>
          )}
          <SeamKeys store={store} plan={plan} top={top} />
          <KeyCard store={store} bench={bench} hand={hand} />
          <SpotCard
            store={store}
            bench={bench}
            hand={hand}
            add={(along) => addKey(store, bench, hand, newKey(bench, hand, crack, along))}
          />
          {cracked && <MoistureNote job={job} placement={top.placement} />}
          {cracked && <KeysCard store={store} bench={bench} hand={hand} nameOf={nameOf} />}
          {screwNotes(job, { ...top, keys: bench.given.keys }).map((words) => (
            <p key={words} class="note">
              {words}
            </p>
          ))}
          <MissedKeys bench={bench} hand={hand} nameOf={nameOf} />
          {cracked && <CrackCard bench={bench} crack={crack} name={nameOf(crack)} />}
          <HoldCard bench={bench} />
          {cracked && <KeyWood store={store} species={species} />}
          <RulesCard store={store} />
          <SizesCard store={store} />
          <Cautions of={['keys', 'router template', 'epoxy']} />
        </>
      }
    />
  );
}

/** What the keys are made of, in its colour. */
function KeyWood({ store, species }: { store: JobStore; species: string }) {
  return (
    <section class="card stack" aria-label="Key wood">
      <ChoiceField
        label="Wood of the keys"
        value={store.job.value.shop.keySpecies ?? ''}
        options={[['', 'The same as the top'], ...SPECIES_CHOICES]}
        onChange={(next) =>
          store.edit('Wood of the keys', ({ shop }) => {
            shop.keySpecies = next === '' ? null : next;
          })
        }
      />
      <p class="small soft">
        <span class="key-wood" style={{ background: heartwood(species) }} aria-hidden="true" /> as it is drawn; no two
        boards have one colour.
      </p>
    </section>
  );
}
