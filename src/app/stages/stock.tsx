import { useEffect } from 'preact/hooks';
import { isJobFile } from '../jobs';
import { Choices } from '../parts/choices';
import { DropArea, FileButton } from '../parts/file-button';
import { TroubleNote } from '../parts/problem';
import { usePastedFiles } from '../parts/use-pasted-files';
import { go, jobAddress } from '../route';
import { late } from './late';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';
import { PhotoPanel } from './stock/photo-panel';
import { addPhotos } from './stock/read-photos';
import { SlabChooser } from './stock/slab-chooser';
import { SlabPanel } from './stock/slab-panel';
import { SlabSheet } from './stock/slab-sheet';
import { PANELS, stockView } from './stock/view';

/** What a new job shows is here; the rest comes once there is a slab. */
const LATE_PARTS = {
  outline: late(async () => (await import('./stock/outline-panel')).OutlinePanel),
  defects: late(async () => (await import('./stock/defects-panel')).DefectsPanel),
  layers: late(async () => (await import('./stock/layers-panel')).LayersPanel),
  readings: late(async () => (await import('./stock/readings/readings-panel')).ReadingsPanel),
};
const PANEL_PARTS = { ...LATE_PARTS, photo: PhotoPanel, slab: SlabPanel };
const BoardsSide = late(async () => (await import('./stock/leaves/boards-side')).BoardsSide);
const BoardsDrawing = late(async () => (await import('./stock/leaves/boards-side')).BoardsDrawing);

/** Slabs and boards: photos, outlines, defects, readings. */
export function Stock({ store }: StageProps) {
  const view = stockView(store);
  const boards = view.stock.value === 'boards';
  const place = view.place.value;
  const Panel = PANEL_PARTS[view.panel.value];
  const begun = place !== null;
  // One that came only after its tap would leave a hole for a moment, and the page would jump.
  useEffect(() => {
    if (begun) for (const part of Object.values(LATE_PARTS)) part.prepare().catch(() => {});
  }, [begun]);

  /** Files that were dropped or pasted anywhere on the stage; job files are for the screen around it. */
  const arrive = (files: File[]) => {
    if (files.some(isJobFile)) return;
    if (!boards) void addPhotos(view, files);
    else
      view.trouble.value = {
        message: 'It is not known what these photos show.',
        mend: 'Add photos of leaves or of a board by its own buttons, which ask for what is up.',
        byHand: false,
      };
  };
  usePastedFiles(arrive);

  return (
    <DropArea class="fill" onFiles={arrive}>
      <StageLayout
        title="Stock"
        {...(view.reading.value && { primary: null })}
        drawing={
          boards ? (
            <BoardsDrawing view={view} />
          ) : place ? (
            <SlabSheet view={view} />
          ) : (
            <Empty store={store} onFiles={(files) => addPhotos(view, files)} />
          )
        }
        facts={
          <>
            <SlabChooser view={view} />
            <TroubleNote trouble={view.trouble.value} />
            {boards && <BoardsSide view={view} />}
            {!boards && place && (
              <Choices
                tabs
                label={`What of ${place.slab.name}`}
                options={PANELS}
                value={view.panel.value}
                onChange={(panel) => view.open(panel)}
              />
            )}
            {!boards && (place || view.panel.value === 'photo') && (
              <Panel key={`${place?.slab.id}/${view.faceName.value}`} view={view} />
            )}
          </>
        }
      />
    </DropArea>
  );
}

function Empty({ store, onFiles }: StageProps & { onFiles(files: File[]): void }) {
  return (
    <div class="empty-sheet">
      <p>No slabs yet. Add a photo of each, with printed cards, a sheet of paper or rods lying on it.</p>
      <FileButton accept="image/*" multiple onFiles={onFiles}>
        Add photos of slabs
      </FileButton>
      <p>At the yard, with a tape and no time?</p>
      <button type="button" class="button" onClick={() => void atTheYard(store)}>
        Type a slab on offer
      </button>
    </div>
  );
}

/** Opens the short form of the rack. It is fetched only then. */
async function atTheYard(store: StageProps['store']): Promise<void> {
  const [{ yardView }, { tapeView }] = await Promise.all([import('./layout/yard-view'), import('./yard/tape-view')]);
  yardView(store).open.value = true;
  tapeView(store).next();
  go(jobAddress(store.id, 'layout'));
}
