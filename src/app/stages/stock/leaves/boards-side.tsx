import { Choices } from '../../../parts/choices';
import { BoardsPanel } from '../boards-panel';
import { DefectsPanel } from '../defects-panel';
import { LayersPanel } from '../layers-panel';
import { OutlinePanel } from '../outline-panel';
import { SlabSheet } from '../slab-sheet';
import { LEAF_PANELS, type StockView } from '../view';
import { LeafStrip } from './board-leaves';
import { LeafPanel } from './leaf-panel';
import { LEAF_FACES, type LeafShot, shotsOf } from './leaf-shots';
import { ShotPanel } from './shot-panel';
import { ShotSheet } from './shot-sheet';

const PARTS = { photo: LeafPanel, outline: OutlinePanel, defects: DefectsPanel, layers: LayersPanel };

/** The photo of leaves in view. */
function shotInView(view: StockView): LeafShot | null {
  const named = view.shot.value;
  const board = view.store.job.value.boards[named?.board ?? ''];
  return (board && shotsOf(board).find(({ file, face }) => file === named?.file && face === named.face)) ?? null;
}

/** The drawing while boards are looked at: a leaf, a photo of several, or what to do first. */
export function BoardsDrawing({ view }: { view: StockView }) {
  const shot = shotInView(view);
  if (view.place.value) return <SlabSheet view={view} />;
  if (shot) return <ShotSheet view={view} shot={shot} />;
  const boards = Object.values(view.store.job.value.boards);
  const some = boards.some(({ leaves }) => Object.keys(leaves).length > 0);
  return (
    <div class="empty-sheet">
      <p>
        {boards.length === 0
          ? 'Doors veneered with your own leaves need a board that they are sawn from.'
          : some
            ? 'Choose a leaf to look at it, or a photo to look over the numbers.'
            : 'Once the board is sawn, add photos of its leaves: several side by side in each.'}
      </p>
    </div>
  );
}

/** What stands beside it. */
export function BoardsSide({ view }: { view: StockView }) {
  const job = view.store.job.value;
  const shot = shotInView(view);
  const place = view.place.value;
  const board = job.boards[place?.flitch.id ?? shot?.board ?? ''];
  if (!board) return <BoardsPanel view={view} />;
  const panel = view.panel.value;
  const Part = panel in PARTS ? PARTS[panel as keyof typeof PARTS] : LeafPanel;
  return (
    <>
      <div class="row">
        <button type="button" class="button" onClick={() => view.lookAtBoards()}>
          ‹ All boards
        </button>
        <strong>{place ? `${board.name}, leaf ${place.slab.place}` : board.name}</strong>
      </div>
      <LeafStrip view={view} board={board} />
      {place ? (
        <>
          <Choices
            label="Face"
            options={LEAF_FACES}
            value={view.faceName.value}
            onChange={(face) => view.lookAtBoards({ leaf: place.slab.id, face })}
          />
          <Choices
            tabs
            label={`What of leaf ${place.slab.place}`}
            options={LEAF_PANELS}
            value={panel in PARTS ? (panel as keyof typeof PARTS) : 'photo'}
            onChange={(next) => view.open(next)}
          />
          <Part key={`${place.slab.id}/${view.faceName.value}`} view={view} />
        </>
      ) : (
        shot && <ShotPanel view={view} shot={shot} />
      )}
    </>
  );
}
