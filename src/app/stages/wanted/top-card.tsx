import type { Top } from '../../../job';
import { ChoiceField, LengthField, NumberField, TextField } from '../../parts/fields';
import type { JobStore } from '../../store';

const FRONTS = [
  ['live', 'live edge'],
  ['straight', 'straight'],
] as const;

/** The line that is screwed fast; the rest of the depth slides. */
const FAST = [
  ['front', 'its front edge'],
  ['middle', 'its middle'],
  ['back', 'its back edge'],
] as const;

const SAPWOOD = [
  ['wanted', 'wanted'],
  ['allowed', 'may show'],
  ['not', 'not wanted'],
] as const;

/** One wanted top. */
export function TopCard({ store, top }: { store: JobStore; top: Top }) {
  const edit = (name: string, change: (own: Top) => void) =>
    store.edit(`${name} of ${top.name}`, (draft) => {
      const own = draft.tops[top.id];
      if (own) change(own);
    });
  const set =
    <K extends keyof Top>(key: K, name: string) =>
    (value: Top[K]) =>
      edit(name, (own) => {
        own[key] = value;
      });
  const [least, most] = top.depth;
  const setDepth = set('depth', 'Depth');
  return (
    <section class="card stack" aria-label={top.name}>
      <div class="fields">
        <TextField label="Name" value={top.name} onChange={set('name', 'Name')} />
        <NumberField whole label="How many" most={50} value={top.count} onChange={set('count', 'Number')} />
        <ChoiceField label="Front edge" value={top.front} options={FRONTS} onChange={set('front', 'Front edge')} />
        <LengthField label="Length" value={top.length} onChange={set('length', 'Length')} />
        {/* The other end of the band follows rather than refuse a figure that is meant. */}
        <LengthField
          label="Depth, at least"
          value={least}
          onChange={(next) => setDepth([next, Math.max(next, most)])}
        />
        <LengthField label="Depth, at most" value={most} onChange={(next) => setDepth([Math.min(next, least), next])} />
        <LengthField
          label="Finished thickness"
          finest={32}
          value={top.thickness}
          onChange={set('thickness', 'Thickness')}
        />
        <NumberField
          whole
          sign="zero"
          most={4}
          label="Seams, at most"
          value={top.seams}
          onChange={set('seams', 'Seams')}
        />
        <ChoiceField label="Sapwood" value={top.sapwood} options={SAPWOOD} onChange={set('sapwood', 'Sapwood')} />
        <ChoiceField label="Screwed fast at" value={top.fast} options={FAST} onChange={set('fast', 'Fixing')} />
        <LengthField label="Narrowest strip" value={top.leastStrip} onChange={set('leastStrip', 'Narrowest strip')} />
      </div>
      <button
        type="button"
        class="button cut"
        onClick={() =>
          store.edit(`Take out ${top.name}`, (draft) => {
            delete draft.tops[top.id];
          })
        }
      >
        Take it out
      </button>
    </section>
  );
}
