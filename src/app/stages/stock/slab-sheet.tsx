import { useMemo } from 'preact/hooks';
import { extentOf, type Handle, type Item } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useImage } from '../../parts/use-image';
import { editedPath } from './edited-path';
import { faceHand } from './face-hand';
import { faceItems, pictureItem, placeOfDefect } from './face-items';
import { handItems } from './hand/hand-items';
import { outlineHand } from './hand/outline-hand';
import { shownLayers } from './layers';
import { handleOf, xy } from './path';
import { PreviewSheet } from './preview-sheet';
import { probeHandles, probeItems } from './probe';
import { StringSheet } from './readings/string-sheet';
import { Readout } from './readout';
import { PhotoSheet } from './reference/photo-sheet';
import { tapeOnFace } from './reference/tape-hand';
import { ReviewBar } from './review-bar';
import { useFaceLook } from './use-face-look';
import type { StockView } from './view';

/** The face in view: its rectified picture in mm with its line work, or, before it is measured, its photo in pixels. */
export function SlabSheet({ view }: { view: StockView }) {
  const place = view.place.value;
  const photo = view.photo.value;
  if (!place) return null;
  const title = `${place.slab.name}, ${view.faceName.value} face`;
  if (view.stringPhoto.value && view.panel.value === 'readings') return <StringSheet view={view} title={title} />;
  const preview = view.preview.value;
  if (preview && preview.slabId === place.slab.id && preview.face === view.faceName.value)
    return <PreviewSheet preview={preview} title={title} />;
  const asPhoto =
    photo && ((view.lookAt.value === 'photo' && view.panel.value === 'photo') || !view.face.value?.outline);
  return asPhoto ? <PhotoSheet view={view} photo={photo} title={title} /> : <FaceSheet view={view} title={title} />;
}

function FaceSheet({ view, title }: { view: StockView; title: string }) {
  const place = view.place.value;
  const face = view.face.value;
  const picture = face?.picture ?? null;
  const image = useImage(view.store, picture?.file ?? null);
  const path = editedPath(view);
  const dragged = view.dragged.value;
  const shown = path && dragged?.key === path.key ? dragged.points : path?.points;
  const defectId = view.defectId.value;
  const panel = view.panel.value;
  const layers = shownLayers.value;
  const look = useFaceLook(view);
  const spots = panel === 'readings' ? place?.slab.spots : undefined;

  const ground = useMemo(
    (): Item[] => [
      ...(image && picture && layers.has('photo') ? [pictureItem('picture', image, picture)] : []),
      ...(face ? faceItems(face, { ...look, shown: layers, chosen: panel === 'defects' ? defectId : null }) : []),
      ...Object.values(spots ?? {}).map(
        (spot): Item => ({ kind: 'spot', id: `spot-${spot.id}`, at: spot.at, pen: 'measured' }),
      ),
    ],
    [image, picture, face, panel, defectId, spots, layers, look.doubt, look.grain, look.far],
  );
  const items = useMemo((): Item[] => {
    if (!path || !shown || (dragged === null && !path.grow && panel !== 'layers')) return ground;
    const points = shown.map(xy);
    return points.length < 2
      ? ground
      : [...ground, { kind: 'line', id: 'edited', points, closed: path.closed && points.length > 2, pen: 'chosen' }];
  }, [ground, path?.key, shown, dragged === null]);
  const handles = useMemo(
    (): Handle[] => (path && shown ? shown.map((p, i) => ({ id: handleOf(path, i), at: xy(p) })) : []),
    [path?.key, shown],
  );
  const tape = tapeOnFace(view);
  const extent = useMemo(() => {
    if (picture && image) {
      const { x0, y0, mmPerPx, width, height } = picture;
      return extentOf(
        [
          [x0, y0],
          [x0 + width * mmPerPx, y0 + height * mmPerPx],
        ],
        0,
      );
    }
    const points = face?.outline?.outer ?? Object.values(place?.slab.spots ?? {}).map(({ at }) => at);
    return extentOf(points);
  }, [picture, image, face?.outline === null]);

  const probe = probeItems(view);
  const defect = defectId && panel === 'defects' ? face?.defects[defectId] : undefined;
  const measuring = view.measuring.value;
  const own = measuring ? probeHandles(view) : [...(tape ? tape.handles : handles), ...probeHandles(view)];
  const hand = faceHand(view, path);
  const tool = path && panel === 'outline' ? outlineHand(view, path) : null;

  return (
    <div class="sheet-and-bar">
      <Sheet
        label={`Drawing of ${title}`}
        items={[...items, ...(tape?.items ?? []), ...probe, ...(path && tool ? handItems(view, path) : [])]}
        extent={extent}
        extentKey={`${place?.slab.id}/${view.faceName.value}/${image ? 'picture' : 'lines'}`}
        handles={own}
        chosen={view.handle.value}
        reveal={defect ? placeOfDefect(defect) : null}
        foot={face?.outline && <Readout view={view} look={look} />}
        {...hand}
        {...tool}
        {...joinedKeys(hand, tool)}
        {...(tape && view.tape.value && !measuring && tape.hand)}
      />
      <ReviewBar view={view} />
    </div>
  );
}

/** The keys of the face and of the tool on it; the tool's come first. */
function joinedKeys(hand: ReturnType<typeof faceHand>, tool: ReturnType<typeof outlineHand> | null) {
  if (!tool) return {};
  return { keys: { ...hand.keys, ...tool.keys }, keysSay: `${hand.keysSay} ${tool.keysSay}` };
}
