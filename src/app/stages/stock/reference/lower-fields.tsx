import { LengthField } from '../../../parts/fields';
import type { StockView } from '../view';
import { ReferenceLength } from './reference-length';

const WHAT = { markers: 'cards lie', paper: 'sheet lies', rods: 'rods lie', points: 'points lie' } as const;

/** Where the reference lies lower than the face: on the floor or bench, or under a thin leaf. */
export function LowerFields({ view }: { view: StockView }) {
  const { kind, drop, cameraHeight } = view.reference.value;
  // The slab's own measures lie on its own face.
  if (kind === 'slab') return null;
  return (
    <details open={drop !== 0 || cameraHeight !== null}>
      <summary>The {WHAT[kind]} lower than the face</summary>
      <div class="stack">
        <p class="small soft">
          On the floor or the bench beside the slab: type how far below its upper face. On the wood itself: 0.
        </p>
        <div class="fields">
          <ReferenceLength
            view={view}
            label="Lower by"
            sign="zero"
            value={drop}
            set={(draft, mm) => {
              draft.drop = mm;
            }}
          />
          <LengthField<true>
            optional
            label="Height of the camera, if you know it"
            value={cameraHeight}
            onChange={(mm) =>
              view.editReference('Height of the camera', (draft) => {
                draft.cameraHeight = mm;
              })
            }
          />
        </div>
      </div>
    </details>
  );
}
