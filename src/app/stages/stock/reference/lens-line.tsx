import { useEffect } from 'preact/hooks';
import type { Photo } from '../../../../job';
import { cameraName, isNamed, lensOf } from '../../../camera-lens';
import { forgetLens, lenses } from '../../../lenses';
import { TickField } from '../../../parts/fields';
import type { KeptLens } from '../../../shelf';
import type { StockView } from '../view';
import { cameras, lookForLens, usesLens } from './lens';

/** What is known of this camera's lens: the offer to use it, what came of that, and forgetting it. */
export function LensLine({ view, photo }: { view: StockView; photo: Photo }) {
  useEffect(() => {
    void lookForLens(view, photo);
  }, [photo.file]);
  const camera = cameras.value.get(photo.file);
  const kept = lenses.value ?? [];
  const reference = view.reference.value;
  if (!camera || kept.length === 0) return null;
  const found = lensOf(camera, kept);
  const used = usesLens(reference, found);
  const own = found?.sure && found.lens.camera.day === camera.day && photo.calibration !== null && !photo.scale.lens;

  return (
    <details open={found !== null && reference.kind !== 'markers'}>
      <summary>This camera's lens</summary>
      <div class="stack">
        {found && !own && (
          <TickField
            label={`Use what the photo of ${dayText(found.lens.day)} taught about ${found.sure ? 'this camera' : 'this camera, if it is the same'}`}
            value={used}
            onChange={(lens) =>
              view.editReference("Use this camera's lens", (draft) => {
                draft.lens = lens;
              })
            }
          />
        )}
        <p class="small soft">
          {!found
            ? `Nothing is kept of the camera that took this photo (${cameraName(camera)}). A photo with four cards teaches it.`
            : !found.sure
              ? `${isNamed(camera) ? 'This photo differs a little from it' : 'This photo does not say what took it'}: tick it only if ${cameraName(found.lens.camera)} took it, too, at the same zoom.`
              : reference.kind === 'markers'
                ? own
                  ? 'This photo taught it. Later photos with a sheet or rods use it.'
                  : 'Four cards tell the lens by themselves; one or two are helped by it.'
                : 'A sheet or rods alone tell little of the lens. It is dropped where this photo speaks against it.'}
        </p>
        {kept.length > 0 && <KeptLenses kept={kept} />}
      </div>
    </details>
  );
}

function KeptLenses({ kept }: { kept: readonly KeptLens[] }) {
  return (
    <ul class="list plain" aria-label="Lenses kept in this browser">
      {kept.map((lens) => (
        <li key={JSON.stringify(lens.camera)} class="row between">
          <span class="small">
            {cameraName(lens.camera)}, learnt from the photo of {dayText(lens.day)}
          </span>
          <button
            type="button"
            class="button"
            aria-label={`Forget the lens of ${cameraName(lens.camera)}`}
            onClick={() => void forgetLens(lens)}
          >
            Forget it
          </button>
        </li>
      ))}
    </ul>
  );
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** A day as it is said: 24 Nov 2026. */
function dayText(day: string): string {
  const [year, month, date] = day.split('-').map(Number);
  return `${date} ${MONTHS[(month ?? 1) - 1]} ${year}`;
}
