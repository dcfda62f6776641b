import { useState } from 'preact/hooks';
import { bounds } from '../../../../geometry';
import type { Board, FaceName } from '../../../../job';
import { lacksForLookAhead } from '../../../../plan';
import { formatLength } from '../../../../units';
import { CameraButton } from '../../../camera/camera-button';
import { TickField } from '../../../parts/fields';
import { FileButton } from '../../../parts/file-button';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';
import { BesideFields } from './beside-fields';
import { addBoardFace } from './read-board-face';
import { wishBeside } from './read-leaves';

const PHOTOS = 'image/jpeg,image/png,image/webp,image/heic,.heic';
const FACES = [
  ['top', 'Outer face'],
  ['bottom', 'Back'],
] as const satisfies readonly (readonly [FaceName, string])[];

/** Photos of a board's own two faces before it is sawn: a look ahead at its leaves is told by them. */
export function BoardFaces({ view, board }: { view: StockView; board: Board }) {
  const units = useUnits();
  const [onBench, setOnBench] = useState(true);
  const lacks = lacksForLookAhead(board);
  const { faces } = board;
  const busy = view.reading.value !== null;
  return (
    <details class="card" open={faces !== undefined && lacks !== null}>
      <summary>{board.name} before it is sawn: photos of its two faces</summary>
      <div class="stack">
        <p class="small soft">
          By these and the end grain, Leaves shows how the leaves are likely to look. Photograph the outer face, the one
          that sawing begins from; then turn the board over about its length, the same end at the left, and photograph
          its back. One board in a photo.
        </p>
        <BesideFields view={view} label="What lies beside the board" />
        <TickField
          label={`Cards or paper lie on the bench, the board (${formatLength(board.thickness, units, { decimals: 1, unit: true })}) lower`}
          value={onBench}
          onChange={setOnBench}
        />
        {FACES.map(([face, name]) => {
          const outline = faces?.[face].outline;
          const add = ([file]: File[]) => file && void addBoardFace(view, board.id, face, onBench, file);
          return (
            <section key={face} class="row" aria-label={`${name} of ${board.name}`}>
              <span>
                {name}: {outline ? sizeOf(outline.outer, (mm) => formatLength(mm, units, { decimals: 0 })) : 'no photo'}
              </span>
              {!busy && (
                <>
                  <FileButton accept={PHOTOS} onFiles={add}>
                    {outline ? 'Another photo' : `Add a photo of its ${name.toLowerCase()}`}
                  </FileButton>
                  <CameraButton wish={wishBeside(view)} onFiles={add}>
                    Take a photo<span class="hidden-text"> of its {name.toLowerCase()}</span>
                  </CameraButton>
                </>
              )}
            </section>
          );
        })}
        {faces && (
          <button
            type="button"
            class="button cut"
            onClick={() =>
              view.store.edit(`Take out the photos of ${board.name}`, (draft) => {
                delete draft.boards[board.id]?.faces;
              })
            }
          >
            Take its photos out
          </button>
        )}
        {faces && <p class="small">{lacks ?? 'All is there: look ahead under Leaves, Before the saw.'}</p>}
      </div>
    </details>
  );
}

function sizeOf(ring: Parameters<typeof bounds>[0], say: (mm: number) => string): string {
  const { minX, minY, maxX, maxY } = bounds(ring);
  return `${say(maxX - minX)} × ${say(maxY - minY)}`;
}
