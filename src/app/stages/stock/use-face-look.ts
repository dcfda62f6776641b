import { useEffect, useMemo } from 'preact/hooks';
import type { Region } from '../../../geometry';
import { type GrainField, withGrainLines } from '../../../grain';
import { farDefects, farLetters } from '../../../layout';
import { rulerOf } from '../../../photo';
import type { XY } from '../../canvas/items';
import { useLater } from '../../parts/use-later';
import { grainOf, grainStrokes, readGrain } from './grain-layer';
import { shownLayers } from './layers';
import { doubtful } from './ruler';
import type { StockView } from './view';

/** What the layers in view need beyond the face itself, computed only where it is shown. */
export interface FaceLook {
  readonly doubt: readonly Region<'face'>[];
  readonly field: GrainField | null;
  readonly grain: readonly (readonly XY[])[];
  readonly far: {
    readonly defects: ReturnType<typeof farDefects>;
    readonly letters: ReadonlyMap<string, string>;
  } | null;
}

const NOWHERE: FaceLook['doubt'] = [];

/** The layers of the face in view; each part is the same object until what it hangs on changes. */
export function useFaceLook(view: StockView): FaceLook {
  const face = view.face.value;
  const slab = view.place.value?.slab;
  const name = view.faceName.value;
  const shown = shownLayers.value;
  const [seesDoubt, seesGrain] = [shown.has('doubt'), shown.has('grain')];
  const measured = face && Object.values(face.photos).some(({ calibration }) => calibration);
  const doubt =
    useLater(
      `${slab?.id} ${name}`,
      () => (seesDoubt && measured && face?.outline ? doubtful(face.outline, rulerOf(face)) : []),
      [seesDoubt, measured, face?.photos, face?.outline],
    ) ?? NOWHERE;
  useEffect(() => (seesGrain ? readGrain(view) : undefined), [seesGrain, face?.picture, face?.outline]);
  const read = seesGrain ? (grainOf(view)?.field ?? null) : null;
  const lines = face?.grainLines;
  const field = useMemo(() => (read && lines ? withGrainLines(read, lines) : null), [read, lines]);
  const grain = useMemo(() => (field ? grainStrokes(field) : []), [field]);
  const far = useMemo(() => {
    if (!slab) return null;
    const defects = farDefects(slab, name);
    return defects.length > 0 ? { defects, letters: farLetters(slab, name) } : null;
  }, [slab, name]);
  return { doubt, field, grain, far };
}
