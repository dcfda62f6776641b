import { useMemo } from 'preact/hooks';
import { extentOf, type Handle, type Item } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useImage } from '../../parts/use-image';
import { editedPath } from './edited-path';
import { faceItems, pictureItem } from './face-items';
import { handleOf, moved, type Path, placeOf, withOneAt, without, xy } from './path';
import { PreviewSheet } from './preview-sheet';
import { PhotoSheet } from './reference/photo-sheet';
import { tapeOnFace } from './reference/tape-hand';
import type { StockView } from './view';

/** Half a finger, px: how near to an edge a tap must be to put a point into it. */
const REACH = 14;

/** The face in view: its rectified picture in mm with its line work, or, before it is measured, its photo in pixels. */
export function SlabSheet({ view }: { view: StockView }) {
  const place = view.place.value;
  const photo = view.photo.value;
  if (!place) return null;
  const title = `${place.slab.name}, ${view.faceName.value} face`;
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
  const spots = panel === 'readings' ? place?.slab.spots : undefined;

  const ground = useMemo(
    (): Item[] => [
      ...(image && picture ? [pictureItem('picture', image, picture)] : []),
      ...(face ? faceItems(face, panel === 'defects' ? defectId : null) : []),
      ...Object.values(spots ?? {}).map(
        (spot): Item => ({ kind: 'spot', id: `spot-${spot.id}`, at: spot.at, pen: 'measured' }),
      ),
    ],
    [image, picture, face, panel, defectId, spots],
  );
  const items = useMemo((): Item[] => {
    if (!path || !shown || (dragged === null && path.key !== 'drawn')) return ground;
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

  return (
    <Sheet
      label={`Drawing of ${title}`}
      items={tape ? [...items, ...tape.items] : items}
      extent={extent}
      extentKey={`${place?.slab.id}/${view.faceName.value}/${image ? 'picture' : 'lines'}`}
      handles={tape ? tape.handles : handles}
      chosen={view.handle.value}
      {...(path ? pathHand(view, path) : tape?.hand)}
    />
  );
}

/** What the hand does to the edited path. */
function pathHand(view: StockView, path: Path) {
  return {
    onChoose: (id: string | null) => {
      view.handle.value = id;
    },
    onDrag: (id: string, to: readonly [number, number]) => {
      view.dragged.value = { key: path.key, points: moved(path.points, placeOf(path, id), to) };
    },
    onDrop: (id: string, to: readonly [number, number]) => {
      view.dragged.value = null;
      path.set(`Move a point of the ${path.name}`, moved(path.points, placeOf(path, id), to));
    },
    onTap: (at: readonly [number, number], perPx: number) => {
      if (view.drawn.value) {
        path.set('', [...path.points, path.wide ? [at[0], at[1], view.drawn.value.width] : [at[0], at[1]]]);
        view.handle.value = handleOf(path, path.points.length);
        return;
      }
      const put = withOneAt(path.points, path.closed, at, REACH * perPx);
      if (!put) return;
      path.set(`Add a point to the ${path.name}`, put.points);
      view.handle.value = handleOf(path, put.place);
    },
    onDelete: (id: string) => {
      if (path.points.length > path.least)
        path.set(`Take out a point of the ${path.name}`, without(path.points, placeOf(path, id)));
    },
  };
}
