import { offerOf, slabKey } from '../../../job';
import type { YardReport } from '../../../plan';
import { Choices } from '../../parts/choices';
import { tapeView } from '../yard/tape-view';
import type { Offer, YardView } from './yard-view';

const OFFERS: readonly (readonly [Offer, string])[] = [
  ['offered', 'On offer'],
  ['bought', 'Bought'],
  ['sold', 'Sold'],
];

/** Every slab of the job: on offer, bought or sold by one tap, with what the ranking says of it and what was taped. */
export function YardSlabs({ view, report }: { view: YardView; report: YardReport | null }) {
  const job = view.store.job.value;
  const tape = tapeView(view.store);
  const slabs = Object.values(job.flitches).flatMap((flitch) =>
    Object.values(flitch.slabs).map((slab) => ({ slab, key: slabKey(flitch.id, slab.id) })),
  );
  const lines = new Map(report?.slabs.map((line) => [line.key, line]));
  const anyOffered = slabs.some(({ slab }) => offerOf(slab) === 'offered');

  return (
    <section class="stack" aria-label="The slabs">
      <h2>The slabs</h2>
      {slabs.length > 0 && !anyOffered && (
        <p>
          No slab of this job is on offer: those of which nothing was said count as bought.{' '}
          <button type="button" class="button" onClick={() => view.offerAll()}>
            All of them are on offer
          </button>
        </p>
      )}
      <ul class="yard-slabs">
        {slabs.map(({ slab, key }) => (
          <li key={key} class="stack">
            <div class="row">
              <strong>{lines.get(key)?.name ?? slab.name}</strong>
              <span class="number">{lines.get(key)?.price ?? ''}</span>
            </div>
            {lines.has(key) && <p class="small soft">{lines.get(key)?.verdict}</p>}
            <div class="row wrap">
              <Choices
                label={`${slab.name} is`}
                options={OFFERS}
                value={offerOf(slab)}
                onChange={(offer) => view.mark(key, offer)}
              />
              <button
                type="button"
                class="button quiet"
                onClick={() => {
                  tape.slab.value = key;
                }}
              >
                Sizes
              </button>
            </div>
          </li>
        ))}
      </ul>
      <button type="button" class="button" onClick={() => tape.next()}>
        Type a slab on offer
      </button>
    </section>
  );
}
