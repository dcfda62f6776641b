import { useState } from 'preact/hooks';
import { defaultDoor } from '../../job';
import { newId } from '../jobs';
import { Choices } from '../parts/choices';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';
import { addTop, sizing } from './wanted/add-top';
import { DoorCard } from './wanted/door-card';
import { DoorSheet } from './wanted/door-sheet';
import { RunCards } from './wanted/run-card';
import { ShopCard } from './wanted/shop-card';
import { TopCard } from './wanted/top-card';
import { TopSheet } from './wanted/top-sheet';

const PARTS = [
  ['tops', 'Tops'],
  ['doors', 'Doors'],
  ['shop', 'Shop allowances'],
] as const;

/** What the job is to yield, and what the shop keeps back of the wood. */
export function TopsAndDoors({ store }: StageProps) {
  const [part, setPart] = useState<(typeof PARTS)[number][0]>('tops');
  const job = store.job.value;
  const tops = Object.values(job.tops);

  const addDoors = () => {
    const id = newId();
    store.edit('Add doors', (draft) => {
      const others = Object.keys(draft.doors).length;
      draft.doors[id] = { ...defaultDoor(id), name: others === 0 ? 'Doors' : `Fronts ${others + 1}` };
    });
  };

  return (
    <StageLayout
      title="Tops and doors"
      drawing={
        part === 'doors' && Object.keys(job.doors).length > 0 ? (
          <DoorSheet store={store} />
        ) : part === 'doors' ? (
          <div class="empty-sheet">
            <p>No doors yet. Say how wide and high the fronts are to be, and how their leaves are to match.</p>
            <button type="button" class="button main" onClick={addDoors}>
              Add doors
            </button>
          </div>
        ) : tops.length > 0 ? (
          <TopSheet store={store} tops={tops} />
        ) : (
          <div class="empty-sheet">
            <p>
              {sizing.value.has(job.id)
                ? 'Looking at how large a top your slabs give …'
                : 'No top yet. Say how long, how deep and how thick it is to be.'}
            </p>
            <button type="button" class="button" onClick={() => void addTop(store)}>
              Add a top
            </button>
          </div>
        )
      }
      facts={
        <>
          <Choices tabs label="What is wanted" options={PARTS} value={part} onChange={(next) => setPart(next)} />
          {part === 'tops' && (
            <>
              {tops.map((top) => (
                <TopCard key={top.id} store={store} top={top} />
              ))}
              <button type="button" class="button" onClick={() => void addTop(store)}>
                Add a top
              </button>
              <RunCards store={store} />
            </>
          )}
          {part === 'doors' && (
            <>
              {Object.values(job.doors).map((door) => (
                <DoorCard key={door.id} store={store} door={door} />
              ))}
              <button type="button" class="button" onClick={addDoors}>
                Add doors
              </button>
            </>
          )}
          {part === 'shop' && <ShopCard store={store} />}
        </>
      }
    />
  );
}
