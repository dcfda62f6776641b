import type { Region } from '../../../geometry';
import type { GrainField } from '../../../grain';
import { defectArea } from '../../../layout';
import type { XY } from '../../canvas/items';
import { troubleOf } from '../../parts/problem';
import { photoWork } from '../../work';
import type { GrainRead } from './grain-read';
import type { StockView } from './view';

/** Nodes lie so far apart, mm: near enough for a knot's swirl, far enough for the wood to be seen between the strokes. */
const STEP = 25;
/** Half the length of a stroke, mm: from no direction to all lines parallel. */
const HALF = [2, 11] as const;
/** Below this coherence a direction is chance. */
const NONE = 0.12;

const sameFace = (a: GrainRead['of'], b: GrainRead['of']) => a.picture === b.picture && a.outline === b.outline;

/** The grain read of the face in view; null where it was not read, or changed since. */
export function grainOf(view: StockView): GrainRead | null {
  const face = view.face.value;
  const known = view.grain.value;
  return face && known && sameFace(known.of, face) ? known : null;
}

/**
 * Reads the grain of the face in view in the worker, unless it is known.
 * @returns a function that calls it off
 */
export function readGrain(view: StockView): (() => void) | undefined {
  const face = view.face.peek();
  const { picture, outline } = face ?? {};
  if (!face || !picture || !outline || grainOf(view)) return;
  const of = { picture, outline };
  const abort = new AbortController();
  const without: Region<'face'>[] = [
    ...Object.values(face.defects).flatMap((defect) => defectArea(defect, 0)),
    ...face.hidden.map((outer) => ({ outer, holes: [] })),
  ];
  const tell = (part: Pick<GrainRead, 'field' | 'trouble'>) => {
    if (!abort.signal.aborted) view.grain.value = { of, ...part };
  };
  const { file, ...place } = picture;
  void view.store
    .file(file)
    .then((blob) => {
      if (!blob) throw new Error(`the picture ${file} is not stored`);
      return photoWork.call(
        abort.signal,
        () => {},
        (api, id, report) => api.grain(id, blob, place, outline, without, STEP, report),
      );
    })
    .then(
      (field) => tell({ field, trouble: null }),
      (error: unknown) => tell({ field: null, trouble: troubleOf(error) }),
    );
  return () => abort.abort(new DOMException('stopped', 'AbortError'));
}

/** Short strokes along the grain, the longer the surer. */
export function grainStrokes({ angles, coherence, columns, step, x0, y0 }: GrainField): XY[][] {
  return Array.from(angles).flatMap((degrees, node): XY[][] => {
    const sure = coherence[node] ?? 0;
    if (Number.isNaN(degrees) || sure < NONE) return [];
    const [x, y] = [x0 + (node % columns) * step, y0 + Math.floor(node / columns) * step];
    const half = HALF[0] + sure * (HALF[1] - HALF[0]);
    const [dx, dy] = [half * Math.cos((degrees * Math.PI) / 180), half * Math.sin((degrees * Math.PI) / 180)];
    return [
      [
        [x - dx, y - dy],
        [x + dx, y + dy],
      ],
    ];
  });
}

/** Direction and ring spacing at a place, from the nearest node; null where there is no wood or no direction. */
export function grainAt(field: GrainField, [x, y]: XY): { degrees: number; spacing: number | null } | null {
  const [c, r] = [Math.round((x - field.x0) / field.step), Math.round((y - field.y0) / field.step)];
  if (c < 0 || r < 0 || c >= field.columns || r >= field.rows) return null;
  const node = r * field.columns + c;
  const [degrees, spacing] = [field.angles[node] ?? Number.NaN, field.spacing[node] ?? Number.NaN];
  if (Number.isNaN(degrees) || (field.coherence[node] ?? 0) < NONE) return null;
  return { degrees, spacing: Number.isNaN(spacing) ? null : spacing };
}
