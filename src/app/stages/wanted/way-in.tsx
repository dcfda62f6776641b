import { LengthField, TickField } from '../../parts/fields';
import type { JobStore } from '../../store';

/** What a common stair with a landing lets through (practice, no source). */
const COMMON = { length: 2400, width: 800 };

/** The largest top that passes the stairs and doors of the site: what is larger is made in sections. */
export function WayIn({ store }: { store: JobStore }) {
  const { stairs } = store.job.value.shop;
  const set = (next: typeof stairs) =>
    store.edit('Way in', ({ shop }) => {
      shop.stairs = next;
    });
  return (
    <>
      <TickField
        label="Stairs or doors limit what can be carried in"
        value={stairs !== null}
        onChange={(limited) => set(limited ? COMMON : null)}
      />
      {stairs && (
        <div class="fields">
          <LengthField
            label="Longest that passes"
            value={stairs.length}
            onChange={(length) => set({ ...stairs, length })}
          />
          <LengthField
            label="Widest that passes"
            value={stairs.width}
            onChange={(width) => set({ ...stairs, width })}
          />
        </div>
      )}
    </>
  );
}
