import type { Top } from '../../../job';
import { formatLength } from '../../../units';
import { LengthField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { TopEditor } from './edit-top';

const ENDS = [
  ['left', 'Scribed at the left-hand end'],
  ['right', 'Scribed at the right-hand end'],
] as const;

/** Wood kept over the finished size where a top meets walls. */
export function WallFields({ top, editor: { set, edit } }: { top: Top; editor: TopEditor }) {
  const units = useUnits();
  const scribe = (side: keyof Top['scribe'], name: string) => (mm: number) =>
    edit(name, (own) => {
      own.scribe[side] = mm;
    });
  const behind = top.scribe.back + top.wallBow;
  return (
    <div class="stack">
      <div class="fields">
        <LengthField
          label="Scribed at the back"
          sign="zero"
          value={top.scribe.back}
          onChange={scribe('back', 'Scribe at the back')}
        />
        <LengthField
          label="The wall is out of straight by"
          sign="zero"
          value={top.wallBow}
          onChange={set('wallBow', "Wall's bow")}
        />
        {ENDS.map(([side, label]) => (
          <LengthField key={side} label={label} sign="zero" value={top.scribe[side]} onChange={scribe(side, label)} />
        ))}
      </div>
      <p class="small soft">
        {behind > 0
          ? `${formatLength(behind, units)} of wood are kept behind the finished back edge.`
          : 'Kept over the finished size, to be cut to the wall on site.'}
      </p>
    </div>
  );
}
