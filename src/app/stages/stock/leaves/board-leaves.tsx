import { useState } from 'preact/hooks';
import type { Board, FaceName } from '../../../../job';
import { formatLength } from '../../../../units';
import { CameraButton } from '../../../camera/camera-button';
import { Choices } from '../../../parts/choices';
import { TickField } from '../../../parts/fields';
import { FileButton } from '../../../parts/file-button';
import { useUnits } from '../../../parts/job-context';
import { Progress } from '../../../parts/progress';
import type { StockView } from '../view';
import { BesideFields } from './beside-fields';
import { gapsOf, LEAF_FACES, leavesInOrder, shotsOf } from './leaf-shots';
import { OrderCheck } from './order-check';
import { addLeafPhotos, leafThickness, wishBeside } from './read-leaves';

const PHOTOS = 'image/jpeg,image/png,image/webp,image/heic,.heic';
/** The leaves of a board: their photos, several leaves in each, and which of them is looked at. */
export function BoardLeaves({ view, board }: { view: StockView; board: Board }) {
  const units = useUnits();
  const [face, setFace] = useState<FaceName>('top');
  const [onBench, setOnBench] = useState(true);
  const reading = view.reading.value;
  const leaves = leavesInOrder(board);
  const missing = gapsOf(board);
  const add = (files: File[]) => void addLeafPhotos(view, board.id, face, onBench, files);
  return (
    <section class="card stack" aria-label={`Leaves of ${board.name}`}>
      <h3>Leaves of {board.name}</h3>
      {leaves.length > 0 && <LeafStrip view={view} board={board} />}
      {missing.length > 0 && (
        <p class="note">
          {missing.length === 1 ? `Leaf ${missing[0]} is not there` : `Leaves ${missing.join(', ')} are not there`}:
          spoilt, or not photographed yet. Leaves on either side of it do not mirror each other.
        </p>
      )}
      {!reading && <OrderCheck view={view} board={board} />}
      {reading ? (
        <Progress label={reading.label} fraction={reading.fraction} note={reading.note} onStop={reading.stop} />
      ) : (
        <details open={leaves.length === 0}>
          <summary>Photos of its leaves</summary>
          <div class="stack">
            <p class="small soft">
              Lay the leaves side by side in sawing order, a finger's width apart, the same end to the same side, on
              something of another colour. Several go into one photo.
            </p>
            <Choices label="Which faces are up" options={UP} value={face} onChange={(next) => setFace(next)} />
            <p class="small soft">
              The outer face is the one that looked towards the side from which sawing began. The inner faces, too, make
              the drift of the figure known.
            </p>
            <BesideFields view={view} label="What lies beside the leaves" />
            <TickField
              label={`Cards or paper lie on the bench, a leaf (${formatLength(leafThickness(view), units, { decimals: 1, unit: true })}) lower`}
              value={onBench}
              onChange={setOnBench}
            />
            <div class="row">
              <FileButton accept={PHOTOS} multiple main={leaves.length === 0} onFiles={add}>
                Add photos of leaves
              </FileButton>
              <CameraButton wish={wishBeside(view)} onFiles={add}>
                Take a photo
              </CameraButton>
            </div>
          </div>
        </details>
      )}
    </section>
  );
}

const UP = LEAF_FACES.map(([face, name]) => [face, `${name}s up`] as const);

/** So many leaves stand in rows, all in view; more in one that is moved sideways. */
const MOST_IN_ROWS = 14;

/** The leaves of a board to choose from, and the photos that they came in. */
export function LeafStrip({ view, board }: { view: StockView; board: Board }) {
  const shots = shotsOf(board);
  const shot = view.shot.value;
  const leaves = leavesInOrder(board);
  return (
    <div class="stack">
      <nav
        class={leaves.length > MOST_IN_ROWS ? 'choices strip' : 'choices'}
        aria-label={`Leaves of ${board.name}, one by one`}
      >
        {leaves.map(({ id, place }) => (
          <button
            key={id}
            type="button"
            class="button"
            aria-label={`Leaf ${place}`}
            aria-pressed={view.leafId.value === id}
            onClick={() => view.lookAtBoards({ leaf: id })}
          >
            {place}
          </button>
        ))}
      </nav>
      <nav class="choices strip" aria-label={`Photos of leaves of ${board.name}`}>
        {shots.map(({ file, face, leaves, photo }, i) => (
          <button
            key={`${file} ${face}`}
            type="button"
            class="button"
            aria-pressed={shot?.file === file && shot.face === face}
            onClick={() => view.lookAtBoards({ shot: { board: board.id, face, file }, face })}
          >
            Photo {i + 1}: {leaves.length} {face === 'top' ? 'outer' : 'inner'}
            {photo.calibration ? '' : ', not measured'}
          </button>
        ))}
      </nav>
    </div>
  );
}
