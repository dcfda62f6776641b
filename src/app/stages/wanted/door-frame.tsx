import type { DoorFrame } from '../../../job';
import { formatLength } from '../../../units';
import { Choices } from '../../parts/choices';
import { LengthField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { DoorEditing } from './door-editing';

/** Rails and stiles of a common door (practice, no source). */
const USUAL: DoorFrame = { stile: 60, topRail: 60, bottomRail: 70, groove: 10, clearance: 1 };

const FIELDS = [
  ['stile', 'Stiles', 'positive'],
  ['topRail', 'Top rail', 'positive'],
  ['bottomRail', 'Bottom rail', 'positive'],
  ['groove', "Groove's depth", 'zero'],
  ['clearance', 'Kept free in the groove', 'zero'],
] as const;

/** A front veneered all over, or a veneered panel in solid rails and stiles. */
export function FrameFields({ door, edit }: DoorEditing) {
  const units = useUnits();
  const { frame, width, height } = door;
  const set = (next: DoorFrame | null, name = 'Frame') =>
    edit(name, (own) => {
      own.frame = next;
    });
  const seen = frame && [width - 2 * frame.stile, height - frame.topRail - frame.bottomRail];
  const hidden = frame ? Math.max(0, frame.groove - frame.clearance) : 0;
  const say = (mm: number) => formatLength(mm, units);
  return (
    <div class="stack">
      <Choices
        label="How it is made"
        options={[
          ['slab', 'Veneered all over'],
          ['frame', 'Panel in a frame'],
        ]}
        value={frame ? 'frame' : 'slab'}
        onChange={(kind) => set(kind === 'frame' ? (frame ?? USUAL) : null, 'Construction')}
      />
      {frame && seen && (
        <>
          <div class="fields">
            {FIELDS.map(([key, label, sign]) => (
              <LengthField
                key={key}
                label={label}
                sign={sign}
                value={frame[key]}
                onChange={(mm) => set({ ...frame, [key]: mm })}
              />
            ))}
            <LengthField<true>
              optional
              sign="zero"
              label="Tenon (as deep as the groove)"
              value={frame.tenon ?? null}
              onChange={(tenon) => {
                const { tenon: _, ...rest } = frame;
                set(tenon === null ? rest : { ...rest, tenon });
              }}
            />
          </div>
          {seen.every((mm) => mm > 0) ? (
            <p class="small soft">
              Of its panel {say(seen[0] as number)} × {say(seen[1] as number)} are seen; it is cut{' '}
              {say((seen[0] as number) + 2 * hidden)} × {say((seen[1] as number) + 2 * hidden)}. Stiles run through;
              rails are {say((seen[0] as number) + 2 * (frame.tenon ?? frame.groove))} long.
            </p>
          ) : (
            <p class="note miss">Rails and stiles leave nothing of it for a panel: make them narrower.</p>
          )}
        </>
      )}
    </div>
  );
}
